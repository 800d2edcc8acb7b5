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

// circuitShares is what the worse circuit alone could do on a dry road, no
// wheel locked, worked out
// from the vehicle file; "" where the file knows too little.
func circuitShares(car *record.Vehicle) string {
	c, ok := calc.Find("axle-balance")
	if car == nil || !ok {
		return ""
	}
	in, _ := carInputs(c, car)
	r, err := c.Run(in)
	if err != nil {
		return "" // the file does not have what it takes
	}
	// The worse of the two counts: nobody chooses which one goes.
	worst := math.Inf(1)
	for _, key := range []string{"front_only_g", "rear_only_g", "diagonal_g"} {
		if g := r.Values.Get(key); g > 0 {
			worst = min(worst, g)
		}
	}
	times := r.Values.Get("best_g") / worst
	if !(times >= 1) {
		return ""
	}
	return fmt.Sprintf("Worked out from the vehicle file: with the wrong circuit left it takes %.1f times the way of all brakes together, at the best. "+
		"Nobody chooses which one goes, the pedal drops first, and behind it there is nothing.", times)
}
