package report

import (
	"math"
	"slices"
	"time"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/record"
)

// A Wear is how one part wears, read by read, since it was last renewed.
type Wear struct {
	Part   string // lining, rotor, drum
	Wheel  string
	Unit   string
	Grows  bool // a drum gets larger as it wears
	Limit  *float64
	Points []WearPoint // since it was renewed
	Before int         // readings of the parts before it
	Year   *Trend      // over time; nil where there is none to see
	Mile   *Trend      // over the miles
}

// A WearPoint is one reading.
type WearPoint struct {
	At    time.Time
	Miles *float64
	Value float64
	Doubt *float64
	File  string
}

// A Trend is a straight line through readings. Rates are what is worn away in
// a year, or in 1,000 miles.
type Trend struct {
	Rate, Low, High float64 // Low may be under 0: then no wear is certain
	Known           bool    // how far the rate is known: Low and High hold
	// When the limit is reached, in days since 1970 or in miles. Late is
	// infinite where the wear may be none. Ranged is false where no range is
	// known, or no limit.
	Early, Late float64
	Ranged      bool
}

// wears are the verdicts that tell how far a part is worn.
var wears = []struct {
	part, calculation, of string
	grows                 bool
}{
	{"lining", "lining-wear", "lining", false},
	{"rotor", "rotor-thickness", "discard", false},
	{"drum", "drum-diameter", "discard", true},
}

// renewed is how far a reading must stand back from the one before it where no
// doubt is known, for the part to count as a new one: 0.5 mm.
const renewed = 0.5

// wearOf gathers the readings of one part of one wheel from checks by date.
func wearOf(checks []Check) []*Wear {
	var out []*Wear
	for _, c := range checks {
		for _, m := range c.Record.Measurements {
			for _, w := range wears {
				if m.Calculation != w.calculation || m.Wheel == "" {
					continue
				}
				for _, v := range m.Verdicts {
					if v.Of != w.of || number(v.Value) == nil || v.Unit != "mm" {
						continue
					}
					i := slices.IndexFunc(out, func(o *Wear) bool { return o.Part == w.part && o.Wheel == m.Wheel })
					if i < 0 {
						out = append(out, &Wear{Part: w.part, Wheel: m.Wheel, Unit: v.Unit, Grows: w.grows})
						i = len(out) - 1
					}
					out[i].take(c, v)
				}
			}
		}
	}
	for _, w := range out {
		w.fit()
	}
	return out
}

func (w *Wear) take(c Check, v record.Verdict) {
	p := WearPoint{At: c.Record.Started, Miles: miles(c.Record), Value: *v.Value, File: c.Path}
	if known(v.Doubt) {
		p.Doubt = v.Doubt
	}
	w.Limit = number(v.Limit)
	if n := len(w.Points); n > 0 {
		last := w.Points[n-1]
		if last.File == p.File { // measured twice in one check: the later one
			w.Points[n-1] = p
			return
		}
		back := p.Value - last.Value
		if w.Grows {
			back = -back
		}
		least := renewed
		if p.Doubt != nil && last.Doubt != nil {
			least = math.Hypot(*p.Doubt, *last.Doubt)
		}
		if back > least {
			w.Before += n
			w.Points = nil
		}
	}
	w.Points = append(w.Points, p)
}

// miles is what the odometer read, in miles.
func miles(r *record.Record) *float64 {
	if r.Odometer == nil {
		return nil
	}
	v, err := unit.Parse(unit.KindLength, r.Odometer.Typed, r.Odometer.Unit)
	if err != nil || v.Missing() || v.SI < 0 {
		return nil
	}
	return number(new(v.SI / metresPerMile))
}

const (
	metresPerMile = 1609.344
	daysPerYear   = 365.25
)

func days(t time.Time) float64 { return float64(t.Unix()) / 86400 }

// fit lays the lines over time and over the miles.
func (w *Wear) fit() {
	var at, run []float64
	for _, p := range w.Points {
		at = append(at, days(p.At))
		if p.Miles != nil {
			run = append(run, *p.Miles)
		}
	}
	w.Year = w.trend(at, daysPerYear)
	if len(run) == len(at) && slices.IsSorted(run) { // an odometer that ran back was mistyped, or is another
		w.Mile = w.trend(run, 1000)
	}
}

// trend fits a line through the readings over x. Its doubt is the larger of
// the gauges' own and of what the readings scatter about the line, at about
// 95 in 100.
func (w *Wear) trend(x []float64, per float64) *Trend {
	n := float64(len(x))
	var meanX, meanY, gauges float64
	sure := true // every doubt is known
	for i, p := range w.Points {
		meanX += x[i] / n
		meanY += p.Value / n
		if p.Doubt != nil {
			gauges += *p.Doubt / n
		} else {
			sure = false
		}
	}
	var xx, xy float64
	for i, p := range w.Points {
		xx += (x[i] - meanX) * (x[i] - meanX)
		xy += (x[i] - meanX) * (p.Value - meanY)
	}
	if len(x) < 2 || !(xx > 0) {
		return nil
	}
	slope := xy / xx
	var left float64
	for i, p := range w.Points {
		off := p.Value - meanY - slope*(x[i]-meanX)
		left += off * off
	}
	doubt := 0.0
	if sure {
		doubt = gauges
	}
	if n > 2 {
		doubt = max(doubt, student(len(x)-2)*math.Sqrt(left/(n-2)))
	}
	sign := -1.0 // wear takes away
	if w.Grows {
		sign = 1
	}
	off := doubt / math.Sqrt(xx)
	t := &Trend{Rate: sign * slope * per, Low: (sign*slope - off) * per, High: (sign*slope + off) * per, Known: sure || n > 2}
	if w.Limit == nil || !t.Known || t.High <= 0 {
		return t
	}
	// From the middle of the readings to the limit, at the fastest wear and at
	// the slowest; the middle itself is known no better than its doubt.
	room := sign * (*w.Limit - meanY)
	middle := doubt / math.Sqrt(n)
	last := slices.Max(x)
	t.Early = max(meanX+(room-middle)*per/t.High, last)
	t.Late = math.Inf(1)
	if t.Low > 0 {
		t.Late = max(meanX+(room+middle)*per/t.Low, last)
	}
	t.Ranged = true
	return t
}

// student is Student's t for 95 in 100, both sides, by degrees of freedom.
func student(free int) float64 {
	table := []float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086}
	if free <= len(table) {
		return table[free-1]
	}
	return 2.086 // never less than it is
}
