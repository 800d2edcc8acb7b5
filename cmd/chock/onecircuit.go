package main

import (
	"fmt"
	"math"
	"slices"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/calc"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// circuitCauses are the causes behind which a whole circuit may be gone.
var circuitCauses = []string{"leak-outside", "warning-lamp-lit", "no-brake-at-wheel", "pedal-low", "pedal-sinks"}

// oneCircuit says why nobody drives on the circuit that may be left, where a
// finding points that way: by the rule for new vehicles, and by the vehicle
// file as far as it knows. It is a reason not to drive, never a comfort.
func (t *talker) oneCircuit(findings []tree.Finding) []string {
	if !slices.ContainsFunc(findings, func(f tree.Finding) bool {
		return (f.Standing == tree.Found || f.Standing == tree.Likely) && slices.Contains(circuitCauses, f.Cause.ID)
	}) {
		return nil
	}
	if s, ok := t.walk.Said("circuits", ""); ok && slices.Contains(s.Answers, "one") {
		return []string{"This vehicle has one brake circuit. A leak anywhere takes all four brakes, and only the parking brake is left."}
	}
	const speed = 100 * unit.KilometrePerHour
	both, _, err := circuitDistance("us-135-cold", speed)
	if err != nil {
		panic("chock: " + err.Error()) // the rule and the speed are ours
	}
	one, mark, err := circuitDistance("us-135-circuit", speed)
	if err != nil {
		panic("chock: " + err.Error())
	}
	out := []string{fmt.Sprintf("A brake with one circuit gone is nothing to drive on. From %s even a new vehicle may then take %s in place of %s (US standard 135, %s).",
		"100 km/h (62 mph)", roughly(one), roughly(both), mark)}
	if more := circuitShares(t.car); more != "" {
		out = append(out, more)
	}
	return out
}

// circuitDistance is the way that a test of new vehicles allows.
func circuitDistance(id string, v unit.Speed) (unit.Length, brakes.Mark, error) {
	tests := brakes.DistanceTests()
	i := slices.IndexFunc(tests, func(d brakes.DistanceTest) bool { return d.ID == id })
	if i < 0 {
		return 0, "", fmt.Errorf("no test %s", id)
	}
	way, err := tests[i].Most(v)
	return way, tests[i].Decel.Mark, err
}

func roughly(l unit.Length) string {
	return fmt.Sprintf("%.0f m (%.0f ft)", l.Metres(), l.Feet())
}

// circuitShares is what each circuit alone could do on a dry road, worked out
// from the vehicle file; "" where the file knows too little.
func circuitShares(car *record.Vehicle) string {
	c, ok := calc.Find("axle-balance")
	if car == nil || !ok {
		return ""
	}
	in := map[string][]unit.Any{}
	for _, i := range c.Inputs {
		if f := car.Figures[i.Vehicle]; i.Vehicle != "" && !f.Open() && f.Value.Kind == i.Kind {
			in[i.Name] = []unit.Any{f.Value}
		}
	}
	r, err := c.Run(in)
	if err != nil {
		return "" // the file does not have what it takes
	}
	whole := r.Values.Get("best_g")
	say := ""
	for _, part := range []struct{ key, say string }{
		{"front_only_g", "the front circuit alone"}, {"rear_only_g", "the rear circuit alone"}, {"diagonal_g", "one diagonal alone"},
	} {
		g := r.Values.Get(part.key)
		if math.IsNaN(g) || g <= 0 {
			continue
		}
		if say != "" {
			say += ", "
		}
		say += fmt.Sprintf("%s %.1f times", part.say, whole/g)
	}
	if say == "" || math.IsNaN(whole) {
		return ""
	}
	return "Worked out from the vehicle file, without a wheel locked on a dry road: the way to stop would be, with " + say + " that of all brakes together. The pedal drops first, and behind it there is nothing."
}
