package brakes

import (
	"math"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// drawTurn is a turn of 5 to 24 positions, perhaps with some missing.
func drawTurn(rt *rapid.T, gaps bool) Turn {
	n := rapid.IntRange(5, 24).Draw(rt, "positions")
	t := Turn{Positions: n}
	for i := range n {
		if gaps && rapid.IntRange(0, 9).Draw(rt, "missing") == 0 {
			continue
		}
		t.Points = append(t.Points, Point{i, um(float64(rapid.IntRange(-500, 500).Draw(rt, "um")) / 2)})
	}
	if len(t.Points) < 5 {
		rt.Skip()
	}
	return t
}

// relabel moves every reading to another position.
func relabel(t Turn, to func(i int) int) Turn {
	out := Turn{Positions: t.Positions}
	at := make(map[int]unit.Length)
	for _, p := range t.Points {
		at[((to(p.Position)%t.Positions)+t.Positions)%t.Positions] = p.Value
	}
	for i := range t.Positions {
		if v, ok := at[i]; ok {
			out.Points = append(out.Points, Point{i, v})
		}
	}
	return out
}

func change(t Turn, f func(unit.Length) unit.Length) Turn {
	out := Turn{Positions: t.Positions}
	for _, p := range t.Points {
		out.Points = append(out.Points, Point{p.Position, f(p.Value)})
	}
	return out
}

// sameOrders compares two spectra, the second with its high spots turned by
// turn and, where mirror is -1, mirrored, and its amplitudes scaled.
func sameOrders(rt *rapid.T, a, b []Order, mirror float64, turn float64, scale float64) {
	if len(a) != len(b) {
		rt.Fatalf("%d orders became %d", len(a), len(b))
	}
	for i := range a {
		if d := inUM(b[i].Amplitude) - scale*inUM(a[i].Amplitude); math.Abs(d) > 1e-6*(1+scale) {
			rt.Fatalf("order %d: amplitude is off by %g", i+1, d)
		}
		if math.Abs(a[i].Share-b[i].Share) > 1e-6 {
			rt.Fatalf("order %d: share %g became %g", i+1, a[i].Share, b[i].Share)
		}
		period := 2 * math.Pi / float64(i+1)
		if h := float64(b[i].High); h < 0 || h >= period {
			rt.Fatalf("order %d: high spot %g outside its period", i+1, h)
		}
		if inUM(a[i].Amplitude) < 1e-3 || a[i].HalfBlind {
			continue // no direction to compare
		}
		if d := math.Remainder(float64(b[i].High)-mirror*float64(a[i].High)-turn, period); math.Abs(d) > 1e-4 {
			rt.Fatalf("order %d: high spot is off by %g rad", i+1, d)
		}
	}
}

func mustRunout(rt *rapid.T, t Turn) Runout {
	r, err := ReadRunout(t)
	if err != nil {
		rt.Fatal(err)
	}
	return r
}

func TestRunoutProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		turn := drawTurn(rt, true)
		r := mustRunout(rt, turn)

		by := rapid.IntRange(0, turn.Positions-1).Draw(rt, "by")
		moved := mustRunout(rt, relabel(turn, func(i int) int { return i + by }))
		if moved.Total != r.Total {
			rt.Fatalf("another first position: runout %v became %v", r.Total, moved.Total)
		}
		sameOrders(rt, r.Orders, moved.Orders, 1, float64(turn.At(by)), 1)

		mirror := mustRunout(rt, relabel(turn, func(i int) int { return -i }))
		if mirror.Total != r.Total {
			rt.Fatalf("mirrored: runout %v became %v", r.Total, mirror.Total)
		}
		sameOrders(rt, r.Orders, mirror.Orders, -1, 0, 1)

		scale := float64(rapid.IntRange(1, 50).Draw(rt, "scale"))
		big := mustRunout(rt, change(turn, func(v unit.Length) unit.Length { return times(scale, v) }))
		if d := inUM(big.Total) - scale*inUM(r.Total); math.Abs(d) > 1e-6 {
			rt.Fatalf("scaled: runout is off by %g", d)
		}
		sameOrders(rt, r.Orders, big.Orders, 1, 0, scale)

		add := um(float64(rapid.IntRange(-2000, 2000).Draw(rt, "add")))
		shifted := mustRunout(rt, change(turn, func(v unit.Length) unit.Length { return v + add }))
		if d := inUM(shifted.Total - r.Total); math.Abs(d) > 1e-6 {
			rt.Fatalf("zeroed elsewhere: runout is off by %g", d)
		}
		sameOrders(rt, r.Orders, shifted.Orders, 1, 0, 1)
	})
}

func drawTilt(rt *rapid.T, name string) Tilt {
	return Tilt{um(float64(rapid.IntRange(0, 200).Draw(rt, name))), deg(float64(rapid.IntRange(0, 359).Draw(rt, name+" at")))}
}

func TestIndexProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		hub, rotor := drawTilt(rt, "hub"), drawTilt(rt, "rotor")
		studs := rapid.IntRange(3, 10).Draw(rt, "studs")
		p := rapid.IntRange(1, studs-1).Draw(rt, "moved")
		n := rapid.IntRange(5, 16).Draw(rt, "positions")
		at := func(k int) Turn {
			r := rotor
			r.High += deg(360 * float64(k) / float64(studs))
			return tiltTurn(n, hub, r)
		}
		x, err := SeparateHub(at(0), at(p), studs, p, um(1))
		if err != nil {
			rt.Fatal(err)
		}
		for k, s := range x.Seats {
			// What is foretold for a seat is what would be read there, and
			// moving by all studs is moving by none.
			for _, read := range []Turn{at(k), at(k + studs)} {
				r := mustRunout(rt, read)
				if d := inUM(s.Runout) - 2*inUM(r.Orders[0].Amplitude); math.Abs(d) > 1e-6 {
					rt.Fatalf("seat %d is foretold off by %g", k, d)
				}
			}
			lo, hi := 2*math.Abs(inUM(hub.Amplitude-rotor.Amplitude)), 2*inUM(hub.Amplitude+rotor.Amplitude)
			if v := inUM(s.Runout); v < lo-1e-6 || v > hi+1e-6 {
				rt.Fatalf("seat %d: %g is outside %g to %g", k, v, lo, hi)
			}
			if x.Seats[x.Best].Runout > s.Runout+um(1e-6) {
				rt.Fatalf("best %d has %v, %d has %v", x.Best, x.Seats[x.Best].Runout, k, s.Runout)
			}
		}
		// The best seat is no worse than the bound for this many studs.
		h, r := inUM(hub.Amplitude), inUM(rotor.Amplitude)
		bound := 2 * math.Sqrt(max(0, h*h+r*r-2*h*r*math.Cos(math.Pi/float64(studs))))
		if v := inUM(x.Seats[x.Best].Runout); v > bound+1e-6 {
			rt.Fatalf("best seat %g, bound %g", v, bound)
		}

		// Mirrored: read and moved the other way round, everything mirrors.
		flip := func(t Turn) Turn { return relabel(t, func(i int) int { return -i }) }
		m, err := SeparateHub(flip(at(0)), flip(at(p)), studs, studs-p, um(1))
		if err != nil {
			rt.Fatal(err)
		}
		for k := range studs {
			if d := inUM(m.Seats[k].Runout - x.Seats[(studs-k)%studs].Runout); math.Abs(d) > 1e-6 {
				rt.Fatalf("mirrored seat %d is off by %g", k, d)
			}
		}
		if inUM(x.Hub.Amplitude) > 0.01 && math.Abs(float64(Apart(-x.Hub.High, m.Hub.High))) > 1e-4 {
			rt.Fatalf("mirrored hub is at %g, want %g", m.Hub.High.Degrees(), -x.Hub.High.Degrees())
		}

		// The two sets of readings change places.
		s, err := SeparateHub(at(p), at(0), studs, studs-p, um(1))
		if err != nil {
			rt.Fatal(err)
		}
		if d := inUM(s.Hub.Amplitude - x.Hub.Amplitude); math.Abs(d) > 1e-6 {
			rt.Fatalf("the hub depends on which set came first: off by %g", d)
		}
	})
}

func TestJudgeProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		x := rapid.Float64Range(0, 10).Draw(rt, "x")
		u := rapid.Float64Range(0, 1).Draw(rt, "u")
		l := rapid.Float64Range(0, 10).Draw(rt, "limit")
		kind := rapid.SampledFrom([]Kind{Safety, Comfort}).Draw(rt, "kind")
		rank := map[unit.Verdict]int{unit.Outside: 0, unit.TooClose: 1, unit.Within: 2}
		judge := func(x, u float64) unit.Verdict {
			v, err := Judge(x, u, AtMost(l), kind)
			if err != nil {
				rt.Fatal(err)
			}
			return v
		}
		v := judge(x, u)
		if more := judge(x+rapid.Float64Range(0, 1).Draw(rt, "more"), u); rank[more] > rank[v] {
			rt.Fatalf("more of it went from %v to %v", v, more)
		}
		// A worse gauge never turns a doubt into a certainty.
		if worse := judge(x, 2*u); worse != v && worse != unit.TooClose {
			rt.Fatalf("a worse gauge went from %v to %v", v, worse)
		}
		if kind == Safety && x > l && v != unit.Outside {
			rt.Fatalf("past a safety limit is %v", v)
		}
	})
}

func TestNearestStudProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		studs := rapid.IntRange(3, 10).Draw(rt, "studs")
		at := deg(float64(rapid.IntRange(-7200, 7200).Draw(rt, "tenths")) / 10)
		stud, past, err := NearestStud(at, studs)
		if err != nil {
			rt.Fatal(err)
		}
		pitch := 360 / float64(studs)
		if stud < 1 || stud > studs || math.Abs(past.Degrees()) > pitch/2+1e-6 {
			rt.Fatalf("stud %d, %g past it", stud, past.Degrees())
		}
		back := deg(pitch*float64(stud-1)) + past
		if d := Apart(at, back).Degrees(); math.Abs(d) > 1e-6 {
			rt.Fatalf("stud %d and %g is %g away from where it was", stud, past.Degrees(), d)
		}
		if math.Abs(math.Abs(past.Degrees())-pitch/2) < 1e-6 {
			return // half way: the earlier one, which the mirror makes the later one
		}
		m, mpast, err := NearestStud(-at, studs)
		if err != nil {
			rt.Fatal(err)
		}
		if want := (studs+1-stud)%studs + 1; m != want || math.Abs(float64(mpast+past)) > 1e-6 {
			rt.Fatalf("mirrored: stud %d and %g, want %d and %g", m, mpast.Degrees(), want, -past.Degrees())
		}
	})
}

// The two ways to fit a full turn agree: by means, and by least squares.
func TestFullFitIsLeastSquares(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		turn := drawTurn(rt, false)
		top := rapid.IntRange(1, min(HighestOrder, (turn.Positions-1)/2)).Draw(rt, "top")
		blind := turn.Positions%2 == 0 && rapid.Bool().Draw(rt, "blind")
		y := make([]float64, turn.Positions)
		for i, p := range turn.Points {
			y[i] = float64(p.Value)
		}
		coef, cov, rss := fullFit(y, top, blind, nil, nil)
		want, wantCov, wantRSS, ok := leastSquares(design(turn, top, blind), y)
		if !ok || len(coef) != len(want) {
			rt.Fatalf("%d coefficients, %d by least squares, %v", len(coef), len(want), ok)
		}
		for i := range coef {
			if math.Abs(coef[i]-want[i]) > 1e-15 || math.Abs(cov[i]-wantCov[i]) > 1e-12 {
				rt.Fatalf("coefficient %d is %g with %g, by least squares %g with %g", i, coef[i], cov[i], want[i], wantCov[i])
			}
		}
		if math.Abs(rss-wantRSS) > 1e-18 {
			rt.Fatalf("left over is %g, by least squares %g", rss, wantRSS)
		}
	})
}
