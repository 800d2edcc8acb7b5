package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
)

// The ends of ranges, tried closer than 1 %: what TestMutations found that no
// other row comes near.
func TestEdges(t *testing.T) {
	takes := func(what string, err error) {
		t.Helper()
		if err != nil {
			t.Errorf("%s is refused: %v", what, err)
		}
	}
	shoe := PivotedShoe{Drum: 0.15, Width: 0.04, Pivot: 0.12, Arm: 0.2, From: 0, To: unit.Turn / 2}
	takes("a lining to 180 degrees", shoe.check())
	shoe.To = deg(180.5)
	refused(t, "a lining beyond", shoe.check())

	_, err := SteeringTug(1000, 900, 0.03, deg(44.9))
	takes("an axis that leans 44.9 degrees", err)
	_, err = SteeringTug(1000, 900, 0.03, deg(45))
	refused(t, "one that leans 45", err)

	_, _, err = CodeDistance(70 * unit.MilePerHour)
	takes("70 mph", err)
	_, _, err = CodeDistance(70.4 * unit.MilePerHour)
	refused(t, "more than the table has", err)

	// Pads of nearly no size bear at their middle; half way to the next row of
	// the table, half of the difference.
	for _, tt := range []struct{ size, want, source string }{
		{"0.0000001", "1.0000", "Bhandari, table 12.1, first row"},
		{"0.05", "0.9917", "half way from 1 to 0.9833"},
	} {
		c, err := RoundPad(times(number(t, tt.size), unit.Length(1)), 1)
		must(t, c, err)
		near(t, "a pad of "+tt.size, float64(c.Radius), tt.want, tt.source)
	}

	// A disc's factor is a straight line: its slope from two frictions.
	a, err := DiscFactor(0.30)
	must(t, a, err)
	b, err := DiscFactor(0.40)
	must(t, b, err)
	near(t, "slope of a disc", float64(a.Slope), "2.000", "(0.80 - 0.60)/(0.40 - 0.30)")
	near(t, "the same by difference", float64(b.Factor-a.Factor)/0.1, "2.000", "2 mu")

	// A hose of 6 mm is one of the widest, one of 5.9 mm is not.
	for _, tt := range []struct {
		bore   float64
		stiff  bool
		want   string
		source string
	}{
		{6.0, false, "1.04", "49 CFR 571.106, table I, 1/4 in or 6 mm (from memory)"},
		{5.97, false, "0.86", "the same, 3/16 in: a bore between counts as the middle row"},
		{6.0, true, "0.82", "the same, low expansion"},
		{5.97, true, "0.55", "the same, low expansion"},
	} {
		v, err := HoseSwelled(unit.Foot, mm(tt.bore), 1000*unit.PSI, tt.stiff)
		must(t, v, err)
		near(t, "a foot of hose", float64(v)*1e6, tt.want, tt.source)
	}

	// Two steps of the dial may be lost, and no more.
	_, moved, err := ClosingError(0, um(20), um(30), um(10))
	if must(t, moved, err) {
		t.Error("two steps of the dial: the stand moved")
	}
	_, moved, err = ClosingError(0, um(20.1), um(30), um(10))
	if !must(t, moved, err) {
		t.Error("more than two steps, and nothing moved")
	}

	// A share is a share, whatever rounding does.
	turn := Round(um(0), um(7), um(0), um(-7), um(0), um(7), um(0), um(-7))
	s, err := Harmonics(turn, 0)
	must(t, s, err)
	if o, _ := s.Order(2); !(o.Share <= 1) || math.Abs(o.Share-1) > 1e-9 {
		t.Errorf("a pure second order has a share of %g", o.Share)
	}

	// Bores of an axle that differ by a hair more than a fiftieth of an inch.
	own := func(l unit.Length) Figure[unit.Length] {
		return Figure[unit.Length]{Value: l, Mark: Own, Source: "cast"}
	}
	for _, tt := range []struct {
		apart float64
		odd   int
	}{{19.9, 0}, {20.1, 1}} {
		v := Vehicle{Rear: Axle{WheelCylinderLeft: own(unit.Inch), WheelCylinderRight: own(unit.Inch + times(tt.apart, unit.Thou))}}
		if got := v.Oddities(); len(got) != tt.odd {
			t.Errorf("%g thou apart: %q", tt.apart, got)
		}
	}
}
