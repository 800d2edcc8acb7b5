package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func TestRise(t *testing.T) {
	const source = "by hand"
	r, err := Rise(unit.Fahrenheit(70), unit.Fahrenheit(160))
	must(t, r, err)
	near(t, "rise", r.CelsiusDegrees(), "50.0", source)
	// As far below as a thermometer may be off, twice over: none.
	r, err = Rise(unit.Celsius(20), unit.Celsius(16.1))
	if err != nil || r != 0 {
		t.Error(r, err)
	}
	_, err = Rise(unit.Celsius(20), unit.Celsius(15.9))
	refused(t, "wheel below the air", err)
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0} {
		_, err = Rise(unit.Temperature(x), 300)
		refused(t, "air", err)
		_, err = Rise(300, unit.Temperature(x))
		refused(t, "wheel", err)
	}
}

func TestCompareHeat(t *testing.T) {
	const source = "bands of 15 and 50 C and 1.3 times, each by 1.64 of the doubt; counted by hand"
	for _, tt := range []struct {
		name              string
		left, right, warm float64
		want              unit.Verdict
		hotter            int
	}{
		{"alike", 60, 58, 0, unit.Within, 0},
		{"nothing warm", 14, 2, 0, unit.NoLimit, 0},
		{"nothing warm, to the degree", 15, 0, 15, unit.NoLimit, 0},
		{"cool, but another axle is warm", 14, 12, 80, unit.Within, 0},
		{"barely warm against cool", 14, 1, 80, unit.TooClose, 0},
		{"no more than is usual", 60, 50, 0, unit.Within, 0}, // 10 and G 4.5
		{"near what is usual", 60, 48, 0, unit.TooClose, 0},  // 12 and G 4.5
		{"left drags", 120, 55, 0, unit.Outside, 1},          // 65, ratio 2.2
		{"right drags", 55, 120, 0, unit.Outside, -1},
		{"ratio alone", 60, 35, 0, unit.Outside, 1}, // 25 and G 4.2: 25 - 15 = 10; 60 - 45.5 = 14.5 against 5.0
		{"ratio, but no more than is usual", 30, 15, 0, unit.TooClose, 0},
		{"apart, and no ratio", 200, 165, 0, unit.TooClose, 0}, // 35, 1.21
		{"far apart, and no ratio", 300, 235, 0, unit.TooClose, 0},
		{"very hot both", 250, 240, 0, unit.Within, 0}, // within the thermometer's doubt, 17
		{"very hot, and beyond it", 250, 225, 0, unit.TooClose, 0},
		{"the cool one idles", 0, 90, 0, unit.Outside, -1},
		{"far apart at any ratio", 400, 310, 0, unit.Outside, 1}, // 90 - 50 = 40 against 24.1
	} {
		h, err := CompareHeat(unit.TempChange(tt.left), unit.TempChange(tt.right), unit.TempChange(tt.warm), 1)
		must(t, h, err)
		if h.Verdict != tt.want || h.Hotter != tt.hotter {
			t.Errorf("%s: %v, hotter %d, want %v and %d (%+v)\nsource: %s", tt.name, h.Verdict, h.Hotter, tt.want, tt.hotter, h, source)
		}
	}
	h, err := CompareHeat(60, 40, 0, 1)
	must(t, h, err)
	near(t, "apart", float64(h.Apart), "20.0", source)
	near(t, "ratio", float64(h.Ratio), "1.500", source)
	// sqrt(4/3 + 9/3 + 1/12) = 2.1016; sqrt(4/3 + 4/3 + 1/12) = 1.6583.
	near(t, "doubt", float64(h.Doubt), "2.677", source)
	if h, err = CompareHeat(0, 0, 80, 1); err != nil || h.Ratio != 1 || h.Verdict != unit.Within {
		t.Errorf("%+v, %v", h, err)
	}
	if h, err = CompareHeat(0, 90, 80, 1); err != nil || !math.IsInf(float64(h.Ratio), 1) {
		t.Errorf("%+v, %v", h, err)
	}
	for _, x := range []unit.TempChange{unit.TempChange(math.NaN()), unit.TempChange(math.Inf(1)), -1} {
		_, err = CompareHeat(x, 1, 1, 1)
		refused(t, "left", err)
		_, err = CompareHeat(1, x, 1, 1)
		refused(t, "right", err)
		_, err = CompareHeat(1, 1, x, 1)
		refused(t, "warm", err)
		_, err = CompareHeat(1, 1, 1, x)
		refused(t, "step", err)
	}
}

func TestHeatFigures(t *testing.T) {
	const (
		texts = "training texts: within 20 to 30 F, 100 F drags; 200 to 400 F in town"
		ours  = "our choice, written down in the figure"
	)
	near(t, "good", HeatApartGood.Value.FahrenheitDegrees(), "27.0", texts)
	near(t, "bad", HeatApartBad.Value.FahrenheitDegrees(), "90.0", texts)
	near(t, "ratio", float64(HeatRatioBad.Value), "1.30", ours)
	near(t, "very hot", VeryHot.Value.FahrenheitDegrees(), "360.0", texts)
	near(t, "thermometer", ThermometerOff.Value.CelsiusDegrees(), "2.00", "data sheets, from memory")
	near(t, "spot", SpotOff.Value.Percent(), "5.00", ours)
}

func TestHeatProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rise := rapid.Float64Range(0, 400)
		l, r, w := unit.TempChange(rise.Draw(rt, "left")), unit.TempChange(rise.Draw(rt, "right")), unit.TempChange(rise.Draw(rt, "warm"))
		h, err := CompareHeat(l, r, w, 1)
		if err != nil {
			rt.Fatal(err)
		}
		// The mirrored readings have the mirrored answer.
		m, _ := CompareHeat(r, l, w, 1)
		if m.Verdict != h.Verdict || m.Hotter != -h.Hotter || m.Apart != -h.Apart || m.Ratio != h.Ratio {
			rt.Fatalf("%+v, mirrored %+v", h, m)
		}
		if h.Hotter > 0 && l <= r || h.Hotter < 0 && r <= l || (h.Hotter != 0) != (h.Verdict == unit.Outside) {
			rt.Fatalf("%+v", h)
		}
		// One that heats up further is never less hot than before.
		if more, _ := CompareHeat(l+20, r, w, 1); h.Hotter > 0 && more.Hotter != 1 {
			rt.Fatalf("%+v, then %+v", h, more)
		}
		// A cold day changes the temperatures and nothing else.
		for _, air := range []float64{-20, 35} {
			a := unit.Celsius(air)
			got, err := Rise(a, a.Plus(l))
			if err != nil || math.Abs(float64(got-l)) > 1e-9 {
				rt.Fatalf("%v, %v", got, err)
			}
		}
	})
}

func BenchmarkHeat(b *testing.B) {
	for b.Loop() {
		if _, err := CompareHeat(120, 55, 0, 1); err != nil {
			b.Fatal(err)
		}
	}
}

// A step so coarse that a brake which drags could hide in it calls no pair
// alike.
func TestCoarseStepIsNoComfort(t *testing.T) {
	for _, tt := range []struct {
		left, right, step unit.TempChange
		want              unit.Verdict
	}{
		{100, 40, 100, unit.TooClose}, // 60 apart, 1.64 u is 67
		{100, 100, 100, unit.TooClose},
		{100, 40, 1, unit.Outside},
		{500, 470, 1, unit.Within},
	} {
		h, err := CompareHeat(tt.left, tt.right, 0, tt.step)
		if h = must(t, h, err); h.Verdict != tt.want {
			t.Errorf("%v and %v by steps of %v: %v, want %v", tt.left, tt.right, tt.step, h.Verdict, tt.want)
		}
	}
}
