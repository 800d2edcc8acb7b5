package brakes

import (
	"math"
	"strings"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func readTyre(t *testing.T, size string) Tyre {
	t.Helper()
	tyre, err := ReadTyre(size)
	return must(t, tyre, err)
}

func rolling(t *testing.T, free unit.Length) unit.Length {
	t.Helper()
	c, err := RollingWay(free)
	return must(t, c, err)
}

func circle(d unit.Length) unit.Length { return times(math.Pi, d) }

func turnsIn(t *testing.T, way string, c unit.Length) unit.Ratio {
	t.Helper()
	n, err := TurnsIn(amount[unit.Length](t, way), c)
	return must(t, n, err)
}

var tyreOps = map[string]operation{
	"free": func(t *testing.T, in []string) any { return readTyre(t, in[0]).Free },
	"circle": func(t *testing.T, in []string) any {
		return circle(amount[unit.Length](t, in[0]))
	},
	"turns":      func(t *testing.T, in []string) any { return turnsIn(t, in[1], amount[unit.Length](t, in[0])) },
	"free-turns": func(t *testing.T, in []string) any { return turnsIn(t, in[1], circle(readTyre(t, in[0]).Free)) },
	"loaded-turns": func(t *testing.T, in []string) any {
		return turnsIn(t, in[1], rolling(t, readTyre(t, in[0]).Free))
	},
}

// What stands on sidewalls, and what it comes to by hand.
func TestReadTyre(t *testing.T) {
	const byHand = "by hand: rim and two heights, or the inches themselves"
	for _, tt := range []struct{ size, inches, source string }{
		{"235/75R15", "28.878", byHand},
		{"P235/75R15 105S", "28.878", byHand},
		{"p235/75 r 15", "28.878", byHand},
		{"235/75-15", "28.878", byHand},
		{"235 / 75 15", "28.878", byHand},
		{"235/75ZR15 XL", "28.878", byHand},
		{"LT245/75R16E", "", ""},
		{"LT245/75R16 120/116Q", "30.469", byHand},
		{"LT 235/85 R16", "31.728", byHand},
		{"195/70R15C", "25.748", byHand},
		{"195/70R15C 104/102R", "25.748", byHand},
		{"225/70R19.5", "31.902", byHand},
		{"T145/80D18 103M", "27.134", byHand},
		{"ST205/75R15", "27.106", byHand},
		{"31x10.50R15LT", "31.000", byHand},
		{"31 X 10.5 R 15 LT", "31.000", byHand},
		{"31×10.50-15", "31.000", byHand},
		{"33x12.50R16.5", "33.000", byHand},
		{"32.5x11.5R15", "32.500", byHand},
		{"H78-15", "27.950", "interpretation aiam2474, 36.50 less 8.55"},
		{"h78 15", "27.950", "the same"},
		{"7.60-15", "28.150", "the same, 36.05 less 7.90"},
		{"8.55 - 15", "28.120", "the same, 36.57 less 8.45"},
		// The ends of what is taken.
		{"16x6.50-8", "16.000", byHand}, {"60x20R30", "60.000", byHand}, {"105/75R13", "19.201", byHand}, {"455/25R15", "23.957", byHand}, {"155/100R15", "27.205", byHand},
		{"155/75R8", "17.154", byHand}, {"255/75R30", "45.059", byHand},
		{"104/75R13", "", ""}, {"456/25R15", "", ""}, {"235/24R15", "", ""}, {"155/101R15", "", ""}, {"155/75R7.5", "", ""}, {"255/75R30.5", "", ""}, {"15.9x6.5-8", "", ""}, {"60.1x20R30", "", ""},
		// No table, no height, no size.
		{"G78-15", "", ""}, {"GR78-15", "", ""}, {"7.00-15", "", ""}, {"7.00-15LT", "", ""}, {"9.50R16.5LT", "", ""}, {"165R13", "", ""}, {"185 SR 14", "", ""},
		{"", "", ""}, {"15", "", ""}, {"235/75", "", ""}, {"235/7515", "", ""}, {"235/75R150", "", ""}, {"235/75R7", "", ""}, {"235/75R31", "", ""},
		{"95/75R15", "", ""}, {"105/25R13", "", ""}, {"455/100R30", "", ""}, {"460/75R15", "", ""}, {"235/20R15", "", ""}, {"235/101R15", "", ""},
		{"14x10.50R15", "", ""}, {"15x10.50R15", "", ""}, {"61x10.50R15", "", ""}, {"31x10.50", "", ""},
		{"NaN/75R15", "", ""}, {"-235/75R15", "", ""}, {"235/75R15 235/75R15", "", ""}, {strings.Repeat("9", 400), "", ""}, {"round", "", ""},
	} {
		tyre, err := ReadTyre(tt.size)
		if tt.inches == "" {
			refused(t, tt.size, err)
			continue
		}
		must(t, tyre, err)
		near(t, tt.size, tyre.Free.Inches(), tt.inches, tt.source)
		if old := strings.Contains(tt.source, "same") || strings.Contains(tt.source, "aiam"); (tyre.Old != "") != old {
			t.Errorf("%s is old: %q", tt.size, tyre.Old)
		}
	}
	// What is refused for want of a table says what to do instead.
	for _, old := range []string{"G78-15", "7.00-15", "165R13", "any"} {
		_, err := ReadTyre(old)
		if err == nil || !strings.Contains(err.Error(), "measure the way of one turn on the ground") {
			t.Errorf("%s: %v", old, err)
		}
	}
}

func TestTyreDoubt(t *testing.T) {
	const ours = "our choice, written down in the figure"
	near(t, "by size", readTyre(t, "235/75R15").Off().Percent(), "3.00", ours)
	near(t, "by an old table", readTyre(t, "H78-15").Off().Percent(), "4.00", ours)
	near(t, "measured", RollOutOff.Value.Percent(), "1.00", ours)
	// A seller's tyre of an old size lies within what is said of it.
	if d := 28.66/readTyre(t, "7.60-15").Free.Inches() - 1; !(d > 0 && d <= float64(OldSizeOff.Value)) {
		t.Errorf("7.60-15 is off by %.3f", d)
	}
}

func TestRollOut(t *testing.T) {
	c, err := RollOut(70*unit.Foot, 10)
	must(t, c, err)
	near(t, "70 ft over 10 turns", c.Inches(), "84.00", "by hand")
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0}
	for _, x := range bad {
		_, err := RollOut(unit.Length(x), 1)
		refused(t, "way", err)
		_, err = RollOut(7, unit.Count(x))
		refused(t, "turns", err)
		_, err = RollingWay(unit.Length(x))
		refused(t, "diameter", err)
		_, err = TurnsIn(100, unit.Length(x))
		refused(t, "turn", err)
		if x != 0 {
			_, err = TurnsIn(unit.Length(x), 2)
			refused(t, "way", err)
		}
	}
	for _, x := range []struct {
		way   unit.Length
		turns unit.Count
	}{{0.99, 1}, {5.01, 1}, {2, 3}, {2, 0.5}} {
		_, err := RollOut(x.way, x.turns)
		refused(t, "no road tyre", err)
	}
	for _, way := range []unit.Length{1, 5} {
		_, err := RollOut(way, 1)
		must(t, way, err)
	}
}

func TestTyreProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		// Whatever is typed, it is a size or is refused.
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`(P|LT)?[1-4][0-9]5/[2-9]5 ?(R|-|ZR)1[3-9](\.5)?( ?LT|C)?`)).Draw(rt, "size")
		if tyre, err := ReadTyre(text); err == nil && !(tyre.Free >= 16*unit.Inch && tyre.Free <= 60*unit.Inch) {
			rt.Fatalf("%q is %v", text, tyre.Free)
		}
		// Measured over many turns or one, it is the same; the turns in a mile
		// and the way of a turn are each other's inverse.
		d := unit.Length(rapid.Float64Range(0.5, 1.2).Draw(rt, "diameter"))
		n := unit.Count(rapid.IntRange(1, 30).Draw(rt, "turns"))
		c, err := RollingWay(d)
		if err != nil {
			rt.Fatal(err)
		}
		out, err := RollOut(times(float64(n), c), n)
		if err != nil || math.Abs(float64(out/c)-1) > 1e-12 {
			rt.Fatalf("%v, %v, want %v", out, err, c)
		}
		per, _ := TurnsIn(unit.Mile, c)
		if back := float64(per) * float64(c); math.Abs(back/float64(unit.Mile)-1) > 1e-12 {
			rt.Fatalf("a mile is %g m", back)
		}
		// A loaded tyre turns oftener than its size says, by 1/0.969.
		free, _ := TurnsIn(unit.Mile, circle(d))
		if k := float64(free / per); math.Abs(k-0.969) > 1e-12 {
			rt.Fatalf("loaded share %g", k)
		}
	})
}

func BenchmarkReadTyre(b *testing.B) {
	for b.Loop() {
		if _, err := ReadTyre("LT235/85R16 120/116Q"); err != nil {
			b.Fatal(err)
		}
	}
}
