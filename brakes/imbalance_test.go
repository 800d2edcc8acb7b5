package brakes

import (
	"math"
	"strconv"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func rule(t *testing.T, id string) ImbalanceRule {
	t.Helper()
	for _, r := range ImbalanceRules() {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no rule %s", id)
	return ImbalanceRule{}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestImbalanceUK(t *testing.T) {
	source, lines := published(t, "imbalance-uk.txt")
	for _, l := range lines {
		left, right := times(number(t, l[0]), unit.KilogramForce), times(number(t, l[1]), unit.KilogramForce)
		i, err := CompareSides(left, right)
		must(t, i, err)
		near(t, l[0]+" against "+l[1], i.OfHigher.Percent(), l[4], source)
		locked := l[3] == "left" && left < right || l[3] == "right" && right < left
		for n, id := range []string{"uk-major", "uk-dangerous"} {
			r := rule(t, id)
			got := "-"
			if r.Applies(max(left, right), l[2] == "front", locked) {
				if got = "no"; r.Broken(i) {
					got = "yes"
				}
			}
			if got != l[5+n] {
				t.Errorf("%v: %s is %s, want %s\nsource: %s", l, id, got, l[5+n], source)
			}
		}
	}
}

func TestImbalanceUS(t *testing.T) {
	source, lines := published(t, "imbalance-us.txt")
	r := rule(t, "us-in-use")
	for _, l := range lines {
		left, right := times(number(t, l[0]), unit.PoundForce), times(number(t, l[1]), unit.PoundForce)
		i, err := CompareSides(left, right)
		must(t, i, err)
		near(t, "over the lower", i.OfLower.Percent(), l[2], source)
		near(t, "over the higher", i.OfHigher.Percent(), l[3], source)
		if want := l[4] == "yes"; r.Broken(i) != want || !r.Applies(max(left, right), false, true) {
			t.Errorf("%v: broken %v\nsource: %s", l, r.Broken(i), source)
		}
	}
}

func TestImbalanceDefinitions(t *testing.T) {
	const source = notes + "2600 against 2000 N by each definition"
	i, err := CompareSides(unit.Force(2600), unit.Force(2000))
	must(t, i, err)
	near(t, "over the higher", i.OfHigher.Percent(), "23.08", source)
	near(t, "over the lower", i.OfLower.Percent(), "30.00", source)
	near(t, "over the mean", i.OfMean.Percent(), "26.09", source)
	if i.Left != 1 {
		t.Errorf("left %d, want 1", i.Left)
	}
	// One wheel that does nothing.
	i, err = CompareSides(unit.Force(0), unit.Force(100))
	must(t, i, err)
	if i.OfHigher != 1 || !math.IsInf(float64(i.OfLower), 1) || i.OfMean != 2 || i.Left != -1 {
		t.Errorf("a wheel that does nothing: %+v", i)
	}
	if r := rule(t, "us-in-use"); !r.Broken(i) {
		t.Error("a wheel that does nothing breaks no rule")
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		_, err = CompareSides(unit.Force(x), 1)
		refused(t, "left", err)
		_, err = CompareSides(1, unit.Force(x))
		refused(t, "right", err)
	}
	_, err = CompareSides(unit.Force(0), 0)
	refused(t, "nothing at all", err)
}

// The doubt against the change that each side makes by itself.
func TestImbalanceDoubt(t *testing.T) {
	const source = "law of propagation: the root of the squares of what one u on each side does, counted by small steps"
	for _, tt := range []struct {
		left, right  float64
		want, source string
	}{{200, 100, "0.00559017", source}, {100, 200, "0.00559017", source}, {200, 200, "0.00707107", source}, {200, 0, "0.00500000", source}} {
		near(t, "doubt", float64(ImbalanceDoubt(unit.Force(tt.left), unit.Force(tt.right), 1)), tt.want, tt.source)
		if tt.left <= tt.right || tt.right == 0 {
			continue
		}
		at := func(l, r float64) float64 {
			i, err := CompareSides(unit.Force(l), unit.Force(r))
			must(t, i, err)
			return float64(i.OfHigher)
		}
		const d = 1e-4
		byLeft := (at(tt.left+d, tt.right) - at(tt.left-d, tt.right)) / (2 * d)
		byRight := (at(tt.left, tt.right+d) - at(tt.left, tt.right-d)) / (2 * d)
		near(t, "by small steps", math.Hypot(byLeft, byRight), tt.want, tt.source)
	}
}

func TestImbalanceProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string) unit.Force { return unit.Force(rapid.Float64Range(0.01, 5000).Draw(rt, name)) }
		left, right := draw("left"), draw("right")
		i, err := CompareSides(left, right)
		if err != nil {
			rt.Fatal(err)
		}
		m, _ := CompareSides(right, left)
		if m.OfHigher != i.OfHigher || m.OfLower != i.OfLower || m.Left != -i.Left {
			rt.Fatalf("mirrored: %+v became %+v", i, m)
		}
		if e, _ := CompareSides(left, left); e != (Imbalance{}) {
			rt.Fatalf("equal sides: %+v", e)
		}
		k := rapid.Float64Range(0.01, 100).Draw(rt, "scale")
		s, _ := CompareSides(times(k, left), times(k, right))
		if math.Abs(float64(s.OfHigher-i.OfHigher)) > 1e-12 {
			rt.Fatalf("scaled: %g became %g", float64(i.OfHigher), float64(s.OfHigher))
		}
		if i.OfHigher < 0 || i.OfHigher > 1 || i.OfLower < i.OfMean-1e-12 || i.OfMean < i.OfHigher-1e-12 {
			rt.Fatalf("out of order: %+v", i)
		}
		// Taking from the weaker side makes it worse, by every definition.
		w, _ := CompareSides(max(left, right), times(0.9, min(left, right)))
		if w.OfHigher <= i.OfHigher || w.OfLower <= i.OfLower || w.OfMean <= i.OfMean {
			rt.Fatalf("less on the weaker side: %+v became %+v", i, w)
		}
		for _, r := range ImbalanceRules() {
			if r.Broken(i) && !r.Broken(w) {
				rt.Fatalf("%s: broken by %+v and not by %+v", r.ID, i, w)
			}
		}
	})
}
