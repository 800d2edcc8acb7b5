package calc

import (
	"fmt"
	"math"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// An instrument is what a finer gauge of the same sort is called, and how well
// a hand reads it.
type instrument struct {
	name    string // "micrometer"
	scatter brakes.Figure[unit.Length]
	where   string // what is read again: "each place"
	alone   bool   // one step of error counts, where none is given: a reading is not a difference
}

var (
	micrometer = instrument{name: "micrometer", scatter: brakes.MicrometerScatter, where: "each place"}
	dial       = instrument{name: "dial", scatter: brakes.DialScatter, where: "each place"}
	drumGauge  = instrument{name: "drum micrometer", scatter: brakes.DrumGaugeScatter, where: "each place"}
	caliper    = instrument{name: "caliper with a depth rod", scatter: brakes.CaliperScatter, where: "the thinnest place"}
)

// one is the instrument for a single value: its own error counts.
func (t instrument) one(where string) instrument {
	t.where, t.alone = where, true
	return t
}

// finer lists the gauges on sale that step finer than q, in the person's own
// system, the coarsest first.
func (s shower) finer(q unit.Length, t instrument) []brakes.Gauge[unit.Length] {
	steps := brakes.MetricSteps()
	if s.inch {
		steps = brakes.InchSteps()
	}
	var out []brakes.Gauge[unit.Length]
	for _, step := range steps {
		if float64(step) < float64(q)*(1-1e-9) {
			g := brakes.Gauge[unit.Length]{Step: step, Scatter: max(t.scatter.Value, step/2)}
			if t.alone {
				g.Error = step
			}
			out = append(out, g)
		}
	}
	return out
}

// settle says in a line or two what would settle a verdict that is too close
// to call. g is the gauge behind the value, whose doubt h holds; placement is
// the part of it that no gauge takes away.
func (s shower) settle(h held, g brakes.Gauge[unit.Length], placement unit.Length, t instrument) []string {
	one, all, p := float64(g.Doubt(0)), float64(h.doubt), float64(placement)
	if one == 0 || h.limit.Side == brakes.Unknown {
		return nil
	}
	now := brakes.Setup[unit.Length]{Gauge: g, Weight: max(all*all-p*p, 1e-12*all*all) / (one * one), Placement: placement}
	finer := s.finer(g.Step, t)
	got, err := brakes.Settle(h.judged, now, finer, h.limit, h.kind)
	if err != nil {
		return nil
	}
	var say []string
	switch {
	case h.scatter && got.Verdict == unit.Outside:
		say = s.settleScatter(h, finer, t)
	case got.Verdict == unit.TooClose:
		say = s.saySettling(got, finer, t)
	default:
		return nil
	}
	// A step as coarse as the limit is the plainest reason of all.
	if h.kind == brakes.Comfort && g.Step > 2*t.scatter.Value && h.kind.Guard()*all > float64(h.limit.Low)/2 {
		say = []string{fmt.Sprintf("Read once, a gauge stepping %s cannot judge %s.", s.fine(g.Step), s.fine(h.limit.Low)), say[0]}
	}
	return say
}

// settleScatter is for what looks outside and is no more than the gauge's own
// scatter: only a gauge that scatters less can tell.
func (s shower) settleScatter(h held, finer []brakes.Gauge[unit.Length], t instrument) []string {
	for _, g := range finer {
		noise := g.Noise()
		seen := math.Hypot(float64(h.judged), float64(brakes.ScatterMean(h.n, noise)))
		if seen > float64(brakes.ScatterMost(h.n, noise)) {
			return []string{fmt.Sprintf("What would settle it: %s.", s.named(g, t))}
		}
	}
	return []string{"No gauge on sale tells it from its own scatter."}
}

// named is a finer gauge by its kind and step.
func (s shower) named(g brakes.Gauge[unit.Length], t instrument) string {
	s.coarse = false
	return fmt.Sprintf("a %s that steps %s", t.name, s.fine(g.Step))
}

func (s shower) saySettling(got brakes.Settling[unit.Length], finer []brakes.Gauge[unit.Length], t instrument) []string {
	var ways []string
	averaged := false
	if n := got.Repeats; n > 0 && n <= brakes.RepeatsMost.Value.Int() {
		ways = append(ways, fmt.Sprintf("%d readings of %s, averaged", n, t.where))
		averaged = true
	}
	if got.Finer >= 0 {
		way := s.named(finer[got.Finer], t)
		if got.Times > 1 {
			way = fmt.Sprintf("%d readings of %s with %s, averaged", got.Times, t.where, way)
			averaged = true
		}
		// The fewer readings first.
		if ways = append(ways, way); len(ways) == 2 && got.Times < got.Repeats {
			ways[0], ways[1] = ways[1], ways[0]
		}
	}
	if len(ways) > 0 {
		say := []string{"What would settle it, if the value stays: " + strings.Join(ways, "; or ") + "."}
		if averaged {
			say = append(say, "Averaging evens out the hand. The gauge's own error stays.")
		}
		return say
	}
	switch got.Why {
	case brakes.Between:
		return []string{"Makers differ here: some allow it, some do not. Look up the figure for this vehicle."}
	case brakes.OnLimit:
		return []string{"No gauge settles it: the value lies on the limit itself."}
	case brakes.OwnError:
		return []string{"Averaging does not settle it: the gauge itself may be off by more than there is room. It takes one with a smaller error."}
	case brakes.Placement:
		return []string{"No finer gauge settles it: the stand or the part moved by more than there is room. Hold it still and read again."}
	}
	return []string{fmt.Sprintf("No gauge on sale settles it in %d readings of %s: the value is too near the limit.", brakes.RepeatsMost.Value.Int(), t.where)}
}

// nearest is a chance in whole percent, and never all or nothing.
func nearest(c unit.Ratio) string {
	p := c.Percent()
	switch {
	case p > 99.5:
		return "more than 99 %"
	case p < 0.5:
		return "less than 1 %"
	}
	return fmt.Sprintf("about %.0f %%", math.Round(p))
}
