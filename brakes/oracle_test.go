package brakes

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/mat"
)

// The certified values of NIST, with the two free periods held at theirs,
// which leaves least squares of harmonics at arbitrary spacing.
func TestLeastSquaresAgainstNIST(t *testing.T) {
	source, lines := published(t, "nist-strd-enso.txt")
	want := map[string]string{}
	value := map[string]float64{}
	var data []float64
	for i, l := range lines {
		if l[0] == "data" {
			for _, row := range lines[i+1:] {
				for _, w := range row {
					v, err := strconv.ParseFloat(w, 64)
					if err != nil {
						t.Fatal(err)
					}
					data = append(data, v)
				}
			}
			break
		}
		v, err := strconv.ParseFloat(l[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		want[l[0]], value[l[0]] = l[1], v
	}
	if len(data) != 168 {
		t.Fatalf("%d readings, want 168", len(data))
	}
	var x [][]float64
	for i := range data {
		m := float64(i + 1)
		row := []float64{1}
		for _, period := range []float64{12, value["b4"], value["b7"]} {
			sin, cos := math.Sincos(2 * math.Pi * m / period)
			row = append(row, cos, sin)
		}
		x = append(x, row)
	}
	c, _, rss, ok := leastSquares(x, data)
	if !ok {
		t.Fatal("not solved")
	}
	near(t, "residual sum of squares", rss, want["rss"], source)
	for i, b := range []string{"b1", "b2", "b3", "b5", "b6", "b8", "b9"} {
		// Certified to eleven digits; b4 and b7 are held rounded to as many,
		// which leaves nine in the others.
		if rel := math.Abs(c[i]/value[b] - 1); !(rel < 1e-8) {
			t.Errorf("%s is %.11g, want %s (off by %.1g)\nsource: %s", b, c[i], want[b], rel, source)
		}
	}
}

// The twelve monthly means of the same record, which a full turn of twelve
// positions gives, and order 14 of all 168 months, are one number.
func TestMonthlyMeans(t *testing.T) {
	const source = notes + "monthly means of ENSO; order 1 equals order 14 of 168"
	turn := turnOf(mm, "13.221429 13.050000 12.600000 8.621429 7.085714 8.578571 7.028571 9.250000 10.557143 11.907143 12.492857 13.307143")
	s, err := Harmonics(turn, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "amplitude", s.Orders[0].Amplitude.Millimetres(), "3.090420", source)
	near(t, "mean", s.Mean.Millimetres(), "10.641667", source)
	// Months count from 1 in the source: its phase is ours and 30 degrees.
	want := math.Atan2(0.480183130, 3.052887209)*180/math.Pi - 30 + 360
	nearAngle(t, "high spot", s.Orders[0].High, strconv.FormatFloat(want, 'f', 5, 64), 360, source)
}

// Full turns against gonum's Fourier transform.
func TestHarmonicsAgainstFourier(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := 5; n <= MostPositions; n++ {
		values := make([]float64, n)
		turn := Turn{Positions: n}
		for i := range values {
			values[i] = 100 * rng.NormFloat64()
			turn.Points = append(turn.Points, Point{i, um(values[i])})
		}
		coef := fourier.NewFFT(n).Coefficients(nil, values)
		s, err := Harmonics(turn, 0)
		if err != nil {
			t.Fatal(err)
		}
		if d := inUM(s.Mean) - real(coef[0])/float64(n); math.Abs(d) > 1e-9 {
			t.Errorf("%d readings: mean off by %g", n, d)
		}
		for _, o := range s.Orders {
			want := 2 * cmplx.Abs(coef[o.Times]) / float64(n)
			if o.HalfBlind {
				want /= 2
			}
			if d := inUM(o.Amplitude) - want; math.Abs(d) > 1e-9 {
				t.Errorf("%d readings, order %d: amplitude off by %g", n, o.Times, d)
			}
			// gonum turns the other way: its phase is ours mirrored.
			phase := -cmplx.Phase(coef[o.Times]) / float64(o.Times)
			if d := math.Remainder(float64(o.High)-phase, 2*math.Pi/float64(o.Times)); math.Abs(d) > 1e-9 {
				t.Errorf("%d readings, order %d: high spot off by %g", n, o.Times, d)
			}
		}
	}
}

// Turns with gaps against gonum's least squares.
func TestHarmonicsAgainstQR(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	solved := 0
	for range 300 {
		n := 6 + rng.IntN(20)
		turn := Turn{Positions: n}
		for i := range n {
			if rng.IntN(6) > 0 {
				turn.Points = append(turn.Points, Point{i, um(100 * rng.NormFloat64())})
			}
		}
		s, err := Harmonics(turn, 0)
		if err != nil || len(s.Orders) == 0 || len(turn.Points) == n {
			continue
		}
		solved++
		m, cols := len(turn.Points), 2*len(s.Orders)+1
		a, b := mat.NewDense(m, cols, nil), mat.NewVecDense(m, nil)
		for i, p := range turn.Points {
			a.Set(i, 0, 1)
			b.SetVec(i, inUM(p.Value))
			for k := 1; k <= len(s.Orders); k++ {
				th := float64(k) * float64(turn.At(p.Position))
				a.Set(i, 2*k-1, math.Cos(th))
				a.Set(i, 2*k, math.Sin(th))
			}
		}
		var qr mat.QR
		qr.Factorize(a)
		var x mat.VecDense
		if err := qr.SolveVecTo(&x, false, b); err != nil {
			t.Fatal(err)
		}
		var ata, inv mat.Dense
		ata.Mul(a.T(), a)
		if err := inv.Inverse(&ata); err != nil {
			t.Fatal(err)
		}
		for k, o := range s.Orders {
			want := math.Hypot(x.AtVec(2*k+1), x.AtVec(2*k+2))
			if d := inUM(o.Amplitude) - want; math.Abs(d) > 1e-8 {
				t.Errorf("%v: order %d is off by %g", turn, o.Times, d)
			}
			gain := math.Sqrt((inv.At(2*k+1, 2*k+1) + inv.At(2*k+2, 2*k+2)) / 2)
			if math.Abs(o.gain-gain) > 1e-9 {
				t.Errorf("%v: order %d has noise gain %g, want %g", turn, o.Times, o.gain, gain)
			}
		}
	}
	if solved < 100 {
		t.Errorf("only %d turns with gaps were solved", solved)
	}
}

// max less min of a wave misses some of it between the positions; the share
// that is seen at the worst phase is known in closed form.
func TestWorstCaptureOfRange(t *testing.T) {
	const source = notes + "share of a pure wave that max - min of N points sees at its worst phase"
	for _, tt := range []struct {
		n, times int
		want     string
		source   string
	}{
		{8, 1, "0.92388", source}, {8, 2, "0.70711", source}, {12, 1, "0.96593", source},
		{12, 2, "0.86603", source}, {12, 3, "0.70711", source}, {4, 2, "0.00000", source},
		{5, 1, "0.90451", source}, {5, 2, "0.90451", source},
	} {
		worst := math.Inf(1)
		for step := range 3600 {
			turn := Turn{Positions: tt.n}
			for i := range tt.n {
				turn.Points = append(turn.Points, Point{i, um(50 * math.Cos(float64(tt.times)*float64(turn.At(i))-2*math.Pi*float64(step)/3600))})
			}
			r, err := ReadRunout(turn)
			if err != nil {
				t.Fatal(err)
			}
			worst = min(worst, inUM(r.Total)/100)
		}
		near(t, fmt.Sprintf("%d points, %d times", tt.n, tt.times), worst, tt.want, tt.source)
	}
}
