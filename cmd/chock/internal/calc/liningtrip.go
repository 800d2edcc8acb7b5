package calc

import (
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

// What the talk makes of pads that it has measured already, where a trip is
// planned. The command for it is that of liningLife.
var liningTrip = Calculation{
	Name:  "lining-trip",
	Title: "Linings for the trip",
	Inputs: []Input{
		{Name: "inner", Kind: unit.KindLength, List: true, Typed: true, Say: "inner pads: front left, front right, rear left, rear right"},
		{Name: "outer", Kind: unit.KindLength, List: true, Typed: true, Say: "outer pads in the same order"},
		{Name: "miles", Kind: unit.KindLength, Default: "mi", Say: "how far the linings have gone since they were new"},
		{Name: "trip", Kind: unit.KindLength, Default: "mi", Say: "how far the trip goes, there and back"},
		{Name: "front-new", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Say: "thickness of a new front lining"},
		{Name: "rear-new", Kind: unit.KindLength, Figure: true, Optional: true, Typed: true, Say: "thickness of a new rear lining"},
	},
	Limits: []Limit{
		{"front", "front-new", []string{"front-trip-too-far", "front-trip-doubtful", "front-trip-covered", "front-trip-unknown"}},
		{"rear", "rear-new", []string{"rear-trip-too-far", "rear-trip-doubtful", "rear-trip-covered", "rear-trip-unknown"}},
	},
	Keys: []string{"front_thinnest_mm", "front_miles_left", "front_miles_left_low", "front_miles_left_high",
		"rear_thinnest_mm", "rear_miles_left", "rear_miles_left_low", "rear_miles_left_high", "least_mm"},
	run: runLiningTrip,
}

func runLiningTrip(raw map[string][]unit.Any) (Result, error) {
	in := inputs(raw)
	inner, err := in.wheels("inner")
	if err != nil {
		return Result{}, err
	}
	outer, err := in.wheels("outer")
	if err != nil {
		return Result{}, err
	}
	trip, _ := in.length("trip")
	way, _ := in.length("miles")
	for name, v := range map[string]unit.Length{"trip": trip, "miles": way} {
		if !(v > 0 && !math.IsInf(float64(v), 0)) {
			return Result{}, &InputError{name, fmt.Errorf("%v: want more than 0", v)}
		}
	}
	var r Result
	for i, axle := range axles {
		if err := r.axleTrip(in, axle, append(inner[2*i:2*i+2:2*i+2], outer[2*i:2*i+2]...), way, trip); err != nil {
			return Result{}, err
		}
	}
	least := brakes.LiningLeast
	r.Values = append(r.Values, Value{Key: "least_mm", Number: least.Value.Millimetres()})
	r.Sources = append(r.Sources, sourceOf("least lining", string(least.Mark), least.Source), sourceRule(in.us("inner", "outer")), sourceDoubt,
		"wear in proportion to the way: Math for Automotive Technicians, page 129, 2019",
		fmt.Sprintf("twice the wear: %s (%s)", brakes.WearFactor.Source, brakes.WearFactor.Mark))
	return r, nil
}

// axleTrip holds the trip against the thinnest of the pads of one axle.
func (r *Result) axleTrip(in inputs, axle string, pads []unit.Any, way, trip unit.Length) error {
	nan := math.NaN()
	thin := lining{thick: unit.Length(nan), missing: true}
	var read []unit.Any
	for _, a := range pads {
		if a.Missing() {
			continue
		}
		read = append(read, a)
		if l := ruled(a); thin.missing || l.thick < thin.thick {
			thin = l
		}
	}
	left, low, high := unit.Length(nan), unit.Length(nan), unit.Length(nan)
	name := axle + "-new"
	fresh, known, err := in.figure(name)
	if err != nil {
		return err
	}
	verdict := unit.NoLimit
	if thin.missing {
		r.step("%s: not measured", axle)
	}
	if !thin.missing {
		s := showRule(read)
		say := ""
		v := Verdict{Of: axle, Value: trip.Miles(), Limit: nan, Good: nan, Doubt: nan, Unit: "mi"}
		r.step("%s: thinnest %s", axle, s.size(thin.thick))
		switch {
		case !known:
			say = fmt.Sprintf("%s linings, trip %s: nobody can tell without the thickness of a new one", axle, miles(trip))
		case fresh <= thin.thick:
			say = fmt.Sprintf("%s linings, trip %s: nobody can tell, for no wear can be measured yet", axle, miles(trip))
			r.warn("The %s lining has %s, and a new one %s: measure again, or the figure belongs to another lining.", axle, s.size(thin.thick), s.size(fresh))
		default:
			life, err := brakes.ReckonLining(fresh, thin.thick, brakes.LiningLeast.Value, way, thin.doubt)
			if err != nil {
				return blame(name, err)
			}
			if verdict, err = life.Trip(trip); err != nil {
				return blame("trip", err)
			}
			left, low, high = life.Left, life.Low, life.High
			r.step("%s: worn %s in %s; left at that rate %s, at twice the wear %s", axle, s.size(fresh-thin.thick), miles(way), about(life.Left), about(life.Low))
			v.Limit, v.Good, v.Mark, v.Source = left.Miles(), low.Miles(), string(brakes.WearFactor.Mark), brakes.WearFactor.Source
			held := beside(life.Left, trip) + " at the wear so far"
			words := map[unit.Verdict]string{unit.TooClose: "doubtful", unit.Outside: "not enough"}[verdict]
			if verdict == unit.Within {
				held, words = "at least "+beside(life.Low, trip), "enough"
			}
			say = fmt.Sprintf("%s linings, trip %s, left %s, our estimate: %s", axle, miles(trip), held, words)
		}
		v.Verdict, v.Say = verdict, say
		r.Verdicts = append(r.Verdicts, v)
	}
	switch verdict {
	case unit.TooClose:
		r.say("%s: it would do at the wear so far and not at twice that. Hills, load and traffic decide. New linings before leaving.", capital(axle))
	case unit.Outside:
		r.say("%s: new linings on the whole axle before leaving.", capital(axle))
	}
	r.Outcomes = append(r.Outcomes, outcome(verdict, axle+"-trip-too-far", axle+"-trip-doubtful", axle+"-trip-covered", axle+"-trip-unknown"))
	r.Values = append(r.Values,
		Value{Key: axle + "_thinnest_mm", Number: thin.thick.Millimetres()},
		Value{Key: axle + "_miles_left", Number: left.Miles()},
		Value{Key: axle + "_miles_left_low", Number: low.Miles()},
		Value{Key: axle + "_miles_left_high", Number: high.Miles()})
	return nil
}
