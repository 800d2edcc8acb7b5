package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

func TestReadPads(t *testing.T) {
	const source = "by hand"
	p, err := ReadPads(mm(4), mm(6.5))
	must(t, p, err)
	near(t, "thinner", p.Thinner.Millimetres(), "4.0", source)
	near(t, "inner less outer", p.Apart.Millimetres(), "-2.5", source)
	if !p.InnerThin {
		t.Error("the inner is the thinner")
	}
	if p, err = ReadPads(mm(3), 0); err != nil || p.InnerThin || p.Thinner != 0 {
		t.Errorf("steel: %+v, %v", p, err)
	}
	if p, err = ReadPads(mm(3), mm(3)); err != nil || p.InnerThin || p.Apart != 0 {
		t.Errorf("alike: %+v, %v", p, err)
	}
	for _, bad := range append([]unit.Length{mm(-0.1)}, notNumbers...) {
		_, err = ReadPads(bad, mm(3))
		refused(t, "inner", err)
		_, err = ReadPads(mm(3), bad)
		refused(t, "outer", err)
		_, err = ReadLining([]unit.Length{mm(3), bad})
		refused(t, "along", err)
	}
}

func TestReadLining(t *testing.T) {
	const source = "by hand"
	l, err := ReadLining([]unit.Length{mm(5), mm(3.5), mm(3)})
	must(t, l, err)
	near(t, "thinnest", l.Thinnest.Millimetres(), "3.0", source)
	near(t, "taper", l.Taper.Millimetres(), "2.0", source)
	if l.At != 2 {
		t.Errorf("thinnest at %d, want 2", l.At)
	}
	_, err = ReadLining(nil)
	refused(t, "nothing read", err)
}

const mi = unit.Mile

func TestLiningLifePublished(t *testing.T) {
	source, lines := published(t, "lining-life.txt")
	for _, l := range lines {
		fresh, now, least, miles := mm(number(t, l[0])), mm(number(t, l[1])), mm(number(t, l[2])), times(number(t, l[3]), mi)
		life, err := ReckonLining(fresh, now, least, miles, 0)
		must(t, life, err)
		near(t, "miles per mm", 1/(float64(life.Rate)*mi.Millimetres()), l[4], source)
		// It rounds the miles of one millimetre first and multiplies then.
		perMM := math.Round(1 / (float64(life.Rate) * mi.Millimetres()))
		near(t, "miles left, rounded on the way", perMM*(now-least).Millimetres(), l[5], source)
		near(t, "miles left", life.Left.Miles(), "25237.33", notes+"37856/6*4 without rounding")
	}
}

func TestLiningLife(t *testing.T) {
	// 12 to 6 mm in 30,000 miles is 0.2 mm in 1,000. u 0.4 mm: U = 0.784.
	const source = notes + "0.2 mm in 1,000 miles; U = 1.96 x 0.4 mm; twice and half of the wear"
	life, err := ReckonLining(mm(12), mm(6), mm(1.5), 30000*mi, mm(0.4))
	must(t, life, err)
	near(t, "left", life.Left.Miles(), "22500.0", source)          // 4.5/0.2
	near(t, "low", life.Low.Miles(), "9290.0", source)             // (4.5 - 0.784)/0.4
	near(t, "high", life.High.Miles(), "52840.0", source)          // (4.5 + 0.784)/0.1
	near(t, "fast", float64(life.Fast/life.Rate), "2.000", source) // 2 x 6 mm, more than 6 + 1.41 x 0.784
	for _, tt := range []struct {
		miles  float64
		want   unit.Verdict
		source string
	}{
		{2000, unit.Within, source}, {9290 - 0.01, unit.Within, source}, {9290.01, unit.TooClose, source},
		{22500 - 0.01, unit.TooClose, source}, {22500.01, unit.Outside, source}, {50000, unit.Outside, source},
	} {
		got, err := life.Trip(times(tt.miles, mi))
		must(t, got, err)
		if got != tt.want {
			t.Errorf("%g miles: %v, want %v\nsource: %s", tt.miles, got, tt.want, tt.source)
		}
	}

	// Hardly any wear yet: what the rule may have missed counts instead.
	const little = notes + "wear 0.1 mm in 1,000 miles, at the fastest 0.1 + 1.414 x 1.96 x 0.3 = 0.9316 mm"
	life, err = ReckonLining(mm(10), mm(9.9), mm(1.5), 1000*mi, mm(0.3))
	must(t, life, err)
	near(t, "fast", float64(life.Fast)*mi.Millimetres()*1000, "0.9316", little)
	near(t, "left", life.Left.Miles(), "84000.0", little)
	near(t, "low", life.Low.Miles(), "8386.0", notes+"(9.9 - 0.588 - 1.5)/0.931558")

	// Nothing left is nothing left.
	life, err = ReckonLining(mm(10), mm(1), mm(1.5), 1000*mi, mm(0.1))
	must(t, life, err)
	if life.Left != 0 || life.Low != 0 || life.High != 0 {
		t.Errorf("below the least: %+v", life)
	}
	v, err := life.Trip(1 * mi)
	must(t, v, err)
	if v != unit.Outside {
		t.Errorf("a mile on nothing is %v", v)
	}
	for _, bad := range append([]unit.Length{-1}, notNumbers...) {
		for i := range 5 {
			in := [5]unit.Length{mm(10), mm(5), mm(1.5), 1000 * mi, mm(0.1)}
			in[i] = bad
			_, err := ReckonLining(in[0], in[1], in[2], in[3], in[4])
			refused(t, "lining life", err)
		}
		_, err := life.Trip(bad)
		refused(t, "trip", err)
	}
	_, err = ReckonLining(mm(10), mm(10), mm(1.5), 1000*mi, 0)
	refused(t, "no wear", err)
	_, err = ReckonLining(mm(10), mm(11), mm(1.5), 1000*mi, 0)
	refused(t, "thicker than new", err)
	_, err = ReckonLining(mm(10), mm(5), mm(1.5), 0, 0)
	refused(t, "no way", err)
	_, err = life.Trip(0)
	refused(t, "no trip", err)
	_, err = ReckonLining(1, unit.Length(math.Nextafter(1, 0)), 0.1, math.MaxFloat64, 0)
	refused(t, "a way that no float64 holds", err)
}

func TestLiningProperties(t *testing.T) {
	rank := map[unit.Verdict]int{unit.Outside: 0, unit.TooClose: 1, unit.Within: 2}
	rapid.Check(t, func(rt *rapid.T) {
		now := mm(rapid.Float64Range(0, 12).Draw(rt, "now"))
		fresh := now + mm(rapid.Float64Range(0.1, 10).Draw(rt, "worn"))
		least := mm(rapid.Float64Range(0, 4).Draw(rt, "least"))
		way := times(rapid.Float64Range(100, 100000).Draw(rt, "miles"), mi)
		u := mm(rapid.Float64Range(0, 1).Draw(rt, "u"))
		life, err := ReckonLining(fresh, now, least, way, u)
		if err != nil {
			rt.Fatal(err)
		}
		if life.Low > life.Left || life.Left > life.High || life.Low < 0 {
			rt.Fatalf("out of order: %+v", life)
		}
		// Twice the way for the same wear is twice the way to go.
		far, _ := ReckonLining(fresh, now, least, 2*way, u)
		if math.Abs(float64(far.Left-2*life.Left)) > 1e-9*float64(far.Left) {
			rt.Fatalf("twice the way: %v became %v", life.Left, far.Left)
		}
		// More lining, no doubt, or a shorter trip never makes it worse.
		trip := times(rapid.Float64Range(1, 20000).Draw(rt, "trip"), mi)
		v, err := life.Trip(trip)
		if err != nil {
			rt.Fatal(err)
		}
		if short, _ := life.Trip(trip / 2); rank[short] < rank[v] {
			rt.Fatalf("half the trip went from %v to %v", v, short)
		}
		sure, _ := ReckonLining(fresh, now, least, way, 0)
		if s, _ := sure.Trip(trip); rank[s] < rank[v] {
			rt.Fatalf("without doubt it went from %v to %v", v, s)
		}
		asked, _ := ReckonLining(fresh, now, least+mm(1), way, u)
		if a, _ := asked.Trip(trip); rank[a] > rank[v] {
			rt.Fatalf("with more asked for it went from %v to %v", v, a)
		}
		// What is called enough leaves the least, at twice the wear and with the doubt against it.
		if v == unit.Within && now-times(Safety.Guard(), u)-times(2*float64(life.Rate), trip) < least-mm(1e-6) {
			rt.Fatalf("enough leaves too little: %+v", life)
		}
		p, _ := ReadPads(now, fresh)
		m, _ := ReadPads(fresh, now)
		if p.Thinner != now || p.Apart != -m.Apart || p.InnerThin == m.InnerThin {
			rt.Fatalf("mirrored pads: %+v and %+v", p, m)
		}
	})
}
