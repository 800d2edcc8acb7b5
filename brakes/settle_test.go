package brakes

import (
	"math"
	"math/rand/v2"
	"testing"

	"chock/brakes/unit"
)

// Every number of readings and every gauge tried one after another.
func bruteSettle(t interface{ Fatal(...any) }, x float64, now Setup[float64], finer []Gauge[float64], limit Limit[float64], kind Kind) (repeats, gauge, count int, becomes unit.Verdict) {
	try := func(g Gauge[float64], n int) unit.Verdict {
		u := now.Weight*(g.Step*g.Step/12+g.Error*g.Error/3+g.Scatter*g.Scatter/float64(n)) + now.Placement*now.Placement
		v, err := Judge(x, math.Sqrt(u), limit, kind)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	gauge = -1
	for n := 1; n <= mostTimes; n++ {
		if v := try(now.Gauge, n); v != unit.TooClose {
			repeats, becomes = n, v
			break
		}
	}
	for i, g := range finer {
		for n := 1; n <= 5; n++ {
			if v := try(g, n); v != unit.TooClose {
				if gauge < 0 || n < count {
					gauge, count, becomes = i, n, v
				}
				break
			}
		}
	}
	return repeats, gauge, count, becomes
}

func TestSettleAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	of := func(list ...float64) float64 { return list[rng.IntN(len(list))] }
	settled, not := 0, map[Obstacle]int{}
	for range 4000 {
		x, step := of(10, f(9.9, 10.1), f(9.995, 10.005)), f(1e-4, 0.05)
		now := Setup[float64]{Gauge: Gauge[float64]{Step: step, Error: of(0, 0.002, 0.02), Scatter: of(0, f(0, 0.05), 2), Repeats: rng.IntN(4)},
			Weight: of(1, 2, 0.3), Placement: of(0, 0, 0.005, 0.05)}
		var finer []Gauge[float64]
		for i := range rng.IntN(4) {
			q := step / float64(2+3*i)
			finer = append(finer, Gauge[float64]{Step: q, Error: q, Scatter: max(of(now.Scatter, f(0, 0.02)), q/2)})
		}
		limit := []Limit[float64]{AtLeast(10.0), AtMost(10.0), AtMostRange(9.98, 10.02), {Least, 9.99, 10.01}}[rng.IntN(4)]
		kind := []Kind{Safety, Comfort}[rng.IntN(2)]
		got, err := Settle(x, now, finer, limit, kind)
		if err != nil {
			t.Fatal(err)
		}
		v, err := Judge(x, now.Doubt(), limit, kind)
		if err != nil || v != got.Verdict {
			t.Fatalf("stands at %v, %v, want %v", got.Verdict, err, v)
		}
		if v != unit.TooClose {
			if got.Becomes != v || got.Repeats != 0 || got.Finer != -1 {
				t.Fatalf("nothing to settle: %+v", got)
			}
			continue
		}
		repeats, gauge, count, becomes := bruteSettle(t, x, now, finer, limit, kind)
		if got.Repeats != repeats || got.Finer != gauge || got.Times != count || got.Becomes != becomes {
			t.Fatalf("%g, %+v, %+v, %+v, %v: %+v\nby trying: %d readings; gauge %d with %d; becomes %v", x, now, finer, limit, kind, got, repeats, gauge, count, becomes)
		}
		if (got.Why == None) != (repeats > 0 || gauge >= 0) {
			t.Fatalf("settled and why not: %+v", got)
		}
		if got.Why == None {
			settled++
		}
		not[got.Why]++
		// Why not: each by its own words.
		fine, own := now.Step, math.Sqrt(now.Weight)*float64(Gauge[float64]{Step: now.Step, Error: now.Error}.Doubt(0))
		for _, g := range finer {
			fine, own = min(fine, g.Step), min(own, math.Sqrt(now.Weight)*float64(Gauge[float64]{Step: g.Step, Error: g.Error}.Doubt(0)))
		}
		between := limit.Low < limit.High && (limit.Side == Most && x >= limit.Low && x <= limit.High || limit.Side == Least && x >= limit.Low && x <= limit.High)
		ok := map[Obstacle]bool{
			None:      true,
			Between:   between,
			Placement: got.Needs > 0 && now.Placement >= got.Needs,
			OnLimit:   !between && (got.Needs == 0 || fine*math.Sqrt(now.Weight/12) >= got.Needs),
			OwnError:  got.Needs > 0 && own >= got.Needs,
			Hand:      got.Needs > 0 && own < got.Needs && now.Placement < got.Needs,
		}
		if !ok[got.Why] {
			t.Fatalf("%g, %+v, %+v: %+v is not why", x, now, limit, got)
		}
	}
	for _, why := range []Obstacle{OnLimit, Between, OwnError, Placement, Hand} {
		if settled < 100 || not[why] < 5 {
			t.Errorf("too few of each: %d settled, others %v", settled, not)
			break
		}
	}
}

// By hand: the rotor of at least 24.40 mm, 0.006 mm inside. 1.96 u has to be
// 0.006 or less: u 0.003061.
func TestSettleByHand(t *testing.T) {
	const hand = "by hand, from 1.96 u <= room: u² = q²/12 + e²/3 + s²/n"
	at := func(x float64, g Gauge[float64], weight float64, finer []Gauge[float64], kind Kind) Settling[float64] {
		t.Helper()
		s, err := Settle(x, Setup[float64]{Gauge: g, Weight: weight}, finer, AtLeast(24.40), kind)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	// 0.003061² = 9.371e-6; less 0.001²/3 and 0.002²/12 leaves 8.704e-6; 0.008² over it is 7.35.
	s := at(24.406, Gauge[float64]{Step: 0.002, Error: 0.001, Scatter: 0.008}, 1, nil, Safety)
	near(t, "needs", s.Needs, "0.003061", hand)
	if s.Repeats != 8 || s.Becomes != unit.Within || s.Finer != -1 {
		t.Errorf("%+v, want 8 readings\nsource: %s", s, hand)
	}
	// With a step of a hundredth, 0.01²/12 = 8.33e-6 leaves 7.0e-7 with an error of 0.001: 92 readings.
	s = at(24.406, Gauge[float64]{Step: 0.01, Error: 0.001, Scatter: 0.008}, 1, []Gauge[float64]{{Step: 0.001, Error: 0.001, Scatter: 0.003}}, Safety)
	if s.Repeats != 91 && s.Repeats != 92 || s.Finer != 0 || s.Times != 2 {
		t.Errorf("%+v, want 92 readings, or two of the finer gauge\nsource: %s", s, hand)
	}
	// An error limit of 0.006 alone is u = 0.00346: averaging never does it.
	s = at(24.406, Gauge[float64]{Step: 0.001, Error: 0.006, Scatter: 0.001}, 1, nil, Safety)
	if s.Repeats != 0 || s.Why != OwnError || s.Becomes != unit.NoLimit {
		t.Errorf("%+v, want the gauge's own error\nsource: %s", s, hand)
	}
	// At the limit itself no gauge is fine enough.
	s = at(24.40, Gauge[float64]{Step: 0.001}, 1, []Gauge[float64]{{Step: 1e-9}}, Safety)
	if s.Why != OnLimit || s.Needs != 0 {
		t.Errorf("%+v, want a value on its limit", s)
	}
	// A difference of two readings has twice the variance: 0.01 inside needs u 0.0061.
	s = at(24.41, Gauge[float64]{Scatter: 0.01}, 2, nil, Comfort)
	near(t, "needs", s.Needs, "0.006098", "by hand: 0.01/1.64")
	if s.Repeats != 6 { // 2 0.01²/n <= 0.006098²: n >= 5.38
		t.Errorf("%+v, want 6 readings\nsource: %s", s, hand)
	}
	// Past a comfort limit it takes room on that side.
	s = at(24.39, Gauge[float64]{Scatter: 0.01}, 1, nil, Comfort)
	if s.Becomes != unit.Outside || s.Repeats != 3 { // 0.01²/n < 0.006098²: n > 2.69
		t.Errorf("%+v, want outside after 3 readings\nsource: %s", s, hand)
	}
	// A hand that shakes.
	s = at(24.4001, Gauge[float64]{Scatter: 1}, 1, nil, Safety)
	if s.Why != Hand {
		t.Errorf("%+v, want the hand", s)
	}
	near(t, "most repeats", float64(RepeatsMost.Value), "5.00", "our choice, as written in the figure")
}

func TestSettleRefuses(t *testing.T) {
	good := Setup[unit.Length]{Gauge: Gauge[unit.Length]{Step: mm(0.1)}, Weight: 1}
	for _, bad := range append(notNumbers, mm(-1)) {
		for _, s := range []Setup[unit.Length]{
			{Gauge: Gauge[unit.Length]{Step: bad}, Weight: 1}, {Gauge: Gauge[unit.Length]{Error: bad}, Weight: 1},
			{Gauge: Gauge[unit.Length]{Scatter: bad}, Weight: 1}, {Placement: bad, Weight: 1}, {Weight: float64(bad)},
		} {
			_, err := Settle(mm(1), s, nil, AtLeast(mm(1)), Safety)
			refused(t, "setup", err)
		}
		_, err := Settle(mm(1), good, []Gauge[unit.Length]{{Step: bad}}, AtLeast(mm(1)), Safety)
		refused(t, "finer gauge", err)
	}
	_, err := Settle(mm(1), Setup[unit.Length]{}, nil, AtLeast(mm(1)), Safety)
	refused(t, "no weight", err)
	_, err = Settle(unit.Length(math.NaN()), good, nil, AtLeast(mm(1)), Safety)
	refused(t, "value", err)
	s, err := Settle(mm(1), good, nil, Limit[unit.Length]{}, Safety)
	if err != nil || s.Verdict != unit.NoLimit {
		t.Errorf("without a limit: %+v, %v", s, err)
	}
}

func TestShopSteps(t *testing.T) {
	const trade = "steps of shop gauges as the brief of the part names them"
	for i, want := range []string{"1.000", "0.500", "0.1000"} {
		near(t, "inch series", InchSteps()[i].Thou(), want, trade)
	}
	for i, want := range []string{"0.02000", "0.01000", "0.001000"} {
		near(t, "metric series", MetricSteps()[i].Millimetres(), want, trade)
	}
}

func BenchmarkSettle(b *testing.B) {
	now := Setup[unit.Length]{Gauge: Gauge[unit.Length]{Step: unit.Thou, Error: unit.Thou, Scatter: unit.Thou / 2}, Weight: 1}
	var finer []Gauge[unit.Length]
	for _, q := range InchSteps() {
		finer = append(finer, Gauge[unit.Length]{Step: q, Error: q, Scatter: max(q/2, MicrometerScatter.Value)})
	}
	for b.Loop() {
		if _, err := Settle(mm(28.47), now, finer, AtLeast(mm(28.448)), Safety); err != nil {
			b.Fatal(err)
		}
	}
}
