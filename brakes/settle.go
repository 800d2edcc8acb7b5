package brakes

import (
	"math"

	"chock/brakes/unit"
)

// The steps in which shop gauges for brakes are sold.
var (
	StepThou = Figure[unit.Length]{
		Value:  unit.Thou,
		Mark:   Practice,
		Source: "dial indicators, calipers and micrometers on sale, inch series",
		Scope:  "one count of a shop gauge",
	}
	StepHalfThou = Figure[unit.Length]{
		Value:  unit.Thou / 2,
		Mark:   Practice,
		Source: "dial indicators and digital calipers on sale, inch series",
		Scope:  "one count of a shop gauge",
	}
	StepTenthThou = Figure[unit.Length]{
		Value:  unit.Thou / 10,
		Mark:   Practice,
		Source: "micrometers and fine dial indicators on sale, inch series",
		Scope:  "one count of a shop gauge",
	}
	StepFiftieth = Figure[unit.Length]{
		Value:  0.02 * unit.Millimetre,
		Mark:   Practice,
		Source: "vernier calipers on sale, metric series",
		Scope:  "one count of a shop gauge",
	}
	StepHundredth = Figure[unit.Length]{
		Value:  0.01 * unit.Millimetre,
		Mark:   Practice,
		Source: "dial indicators, digital calipers and micrometers on sale, metric series",
		Scope:  "one count of a shop gauge",
	}
	StepMicron = Figure[unit.Length]{
		Value:  unit.Micrometre,
		Mark:   Practice,
		Source: "micrometers and fine dial indicators on sale, metric series",
		Scope:  "one count of a shop gauge",
	}
)

// InchSteps and MetricSteps are the series, the coarsest first.
func InchSteps() []unit.Length {
	return []unit.Length{StepThou.Value, StepHalfThou.Value, StepTenthThou.Value}
}

func MetricSteps() []unit.Length {
	return []unit.Length{StepFiftieth.Value, StepHundredth.Value, StepMicron.Value}
}

// RepeatsMost is how often one place is read again before a finer gauge is the
// better advice.
var RepeatsMost = Figure[unit.Count]{
	Value:  5,
	Mark:   Estimate,
	Source: "our choice: beyond it a hand tires and the part moves",
	Scope:  "readings of one place that are averaged",
}

// An Obstacle is why no gauge and no repeats settle a verdict.
type Obstacle int

// None is for a verdict that can be settled, or stands already.
const (
	None      Obstacle = iota
	OnLimit            // the value lies so near to the limit that no gauge of the series parts them
	Between            // it lies between limits that differ: another gauge moves it no further
	OwnError           // every gauge may itself be off, by its error or its step, by more than there is room
	Placement          // where or how the gauge sat is more than there is room
	Hand               // the scatter of the hand would take more readings than anybody makes
)

// A Setup is a reading, or several, behind a value.
type Setup[Q ~float64] struct {
	Gauge[Q]
	Weight    float64 // of one reading's variance in that of the value: 1 for a reading, 2 for a difference of two
	Placement Q       // standard uncertainty from where the gauge was put
}

// Doubt is the standard uncertainty of the value.
//
//	u² = w (q²/12 + e²/3 + s²/n) + placement²
//
// Source: as [Gauge.Doubt], of which it is the case w = 1, and
// [Gauge.DifferenceDoubt], w = 2.
func (s Setup[Q]) Doubt() Q {
	one, p := float64(s.Gauge.Doubt(0)), float64(s.Placement)
	return Q(math.Sqrt(s.Weight*one*one + p*p))
}

// A Settling is what would bring a verdict for a value that is too close to
// call, if the value stays where it is.
type Settling[Q ~float64] struct {
	Verdict unit.Verdict // as it stands
	Becomes unit.Verdict // what it would become; NoLimit where nothing can settle it
	Needs   Q            // the doubt with which it is settled; 0 where none is small enough
	Repeats int          // readings a place with the gauge at hand; 0 where no number does it
	Finer   int          // which of the finer gauges does it with the fewest readings, the first of several; -1 for none
	Times   int          // readings a place with that gauge
	Why     Obstacle     // where neither does
}

// mostTimes is the largest number of readings that is looked for.
const mostTimes = 1000

// Settle looks for what would settle a verdict: the least number of readings a
// place with the gauge at hand, and the first of some finer gauges, the
// coarsest first, with its number of readings, at most [RepeatsMost].
//
//	w (q²/12 + e²/3 + s²/n) + placement² <= needs²
//	needs = room inside the limit / in,  or room past it / out
//
// in and out are the guard of the kind of limit. Averaging n readings makes
// s²/n smaller; the gauge's step q and its own error e stay as they are, which
// is why repeats can be of no use. x, the limit and the gauges are in one
// unit, weight is more than 0, the rest 0 or more. Source: [Setup.Doubt] and
// [Judge], solved for n; NIST TN 1297 (1994), section 3, for the average.
func Settle[Q ~float64](x Q, now Setup[Q], finer []Gauge[Q], limit Limit[Q], kind Kind) (Settling[Q], error) {
	for _, g := range append([]Gauge[Q]{now.Gauge}, finer...) {
		for _, v := range []struct {
			what string
			v    Q
		}{{"step of the gauge", g.Step}, {"error of the gauge", g.Error}, {"scatter", g.Scatter}} {
			if err := notNegative(v.what, v.v); err != nil {
				return Settling[Q]{}, err
			}
		}
	}
	if err := above("weight of a reading", now.Weight, 0); err != nil {
		return Settling[Q]{}, err
	}
	if err := notNegative("placement", now.Placement); err != nil {
		return Settling[Q]{}, err
	}
	guard := kind.band()
	v, err := JudgeBy(x, now.Doubt(), limit, guard)
	out := Settling[Q]{Verdict: v, Becomes: v, Finer: -1}
	if err != nil || v != unit.TooClose {
		return out, err
	}
	r, err := roomTo(x, 0, limit)
	if err != nil {
		return out, err
	}
	out.Becomes = unit.NoLimit
	switch {
	case r.good > 0:
		out.Needs = Q(float64(r.good) / float64(guard.In))
	case r.bad < 0: // past the limit and not outside: only where the rule wants room there too
		out.Needs = Q(float64(-r.bad) / float64(guard.Out))
	case limit.Low != limit.High:
		out.Why = Between
		return out, nil
	default:
		out.Why = OnLimit
		return out, nil
	}
	settles := func(g Gauge[Q], n int) bool {
		g.Repeats = n
		at := now
		at.Gauge = g
		return guard.judge(room[float64]{float64(r.good), float64(r.bad)}, float64(at.Doubt())) != unit.TooClose
	}
	// least is the smallest number of readings that does it, 0 for none.
	least := func(g Gauge[Q]) int {
		needs, p, q, e, s := float64(out.Needs), float64(now.Placement), float64(g.Step), float64(g.Error), float64(g.Scatter)
		left := (needs*needs-p*p)/now.Weight - q*q/12 - e*e/3
		if !(left > 0) {
			return 0
		}
		n := max(1, math.Ceil(s*s/left))
		if n > mostTimes {
			return 0
		}
		k := int(n)
		for k > 1 && settles(g, k-1) { // rounding
			k--
		}
		for ; !settles(g, k); k++ {
			if k >= mostTimes {
				return 0
			}
		}
		return k
	}
	out.Repeats = least(now.Gauge)
	for i, g := range finer {
		n := least(g)
		if n > 0 && n <= RepeatsMost.Value.Int() && (out.Finer < 0 || n < out.Times) {
			out.Finer, out.Times = i, n
		}
	}
	if out.Repeats > 0 || out.Finer >= 0 {
		out.Becomes = unit.Within
		if r.bad < 0 {
			out.Becomes = unit.Outside
		}
		return out, nil
	}
	// own is what a gauge leaves however often it is read; fine is the step
	// of the finest alone, as if that gauge had no error.
	own := func(g Gauge[Q]) float64 {
		g.Scatter = 0
		return math.Sqrt(now.Weight) * float64(g.Doubt(0))
	}
	smallest, fine := own(now.Gauge), now.Step
	for _, g := range finer {
		smallest, fine = min(smallest, own(g)), min(fine, g.Step)
	}
	switch needs := float64(out.Needs); {
	case float64(now.Placement) >= needs:
		out.Why = Placement
	case own(Gauge[Q]{Step: fine}) >= needs:
		out.Why = OnLimit
	case smallest >= needs:
		out.Why = OwnError
	default:
		out.Why = Hand
	}
	return out, nil
}
