package brakes

import (
	"fmt"
	"math"
	"testing"

	"chock/brakes/unit"
)

const (
	notes = "worked by hand in plain Python, no library: "
	v1    = notes + "V1, 12 dial readings, discrete Fourier series"
	v1b   = notes + "V1b, two positions missing, normal equations for orders 1 and 2"
	v2    = notes + "V2, 12 thickness readings"
	v4    = notes + "V4, 8 dial readings before and after a move of 2 of 5 studs"
	v6    = notes + "V6, 20 cos(10θ - 70°) at 12 positions"
	v7    = notes + "V7, both faces with play at positions 2 to 9"
	v8    = notes + "V8, four diameters"
	v9    = notes + "V9, radii of three shapes added"
)

var (
	turnV1 = turnOf(um, "0 10 30 48 62 66 58 50 38 24 10 2")
	turnV2 = turnOf(mm, "25.982 25.978 25.975 25.977 25.983 25.986 25.984 25.979 25.974 25.976 25.981 25.985")
	turnV4 = turnOf(mm, "0.000 0.040 0.050 0.020 -0.030 -0.070 -0.080 -0.050")
	movedV = turnOf(mm, "0.000 -0.015 -0.025 -0.020 -0.005 0.010 0.020 0.015")
)

func TestHarmonics(t *testing.T) {
	type row struct {
		times     int
		amplitude string // micrometres
		high      string // degrees, "" where none is wanted
		source    string
	}
	for _, tt := range []struct {
		name    string
		turn    Turn
		highest int
		mean    string
		left    string // "" where none is wanted
		rows    []row
	}{
		{"V1", turnV1, 0, "33.166667", "", []row{
			{1, "32.145199", "157.404627", v1},
			{2, "3.756476", "103.728538", v1},
			{3, "0.333333", "0.000000", v1},
			{4, "0.881917", "55.223349", v1},
			{5, "0.491668", "62.894316", v1},
			{6, "0.166667", "30.000000", v1},
		}},
		{"V1, orders 1 and 2", turnV1, 2, "33.166667", "1.008329", []row{
			{1, "32.145199", "157.404627", v1},
			{2, "3.756476", "103.728538", v1},
		}},
		{"V1b", turnOf(um, "0 10 30 - 62 66 58 50 38 - 10 2"), 2, "33.333333", "1.072175", []row{
			{1, "32.213009", "157.116553", v1b},
			{2, "4.055175", "102.642498", v1b},
		}},
		{"V2", turnV2, 0, "25980.000000", "", []row{
			{1, "0.926", "139.628917", v2},
			{2, "5.403", "154.611587", v2},
			{3, "0.236", "", v2}, {4, "0.289", "", v2}, {5, "0.296", "", v2}, {6, "0.167", "", v2},
		}},
		{"V4 before", turnV4, 0, "-15.000", "", []row{{1, "65.950", "77.235610", v4}}},
		{"V4 after", movedV, 0, "-2.500", "", []row{{1, "22.064", "277.861193", v4}}},
		{"V6: ten times a turn looks like two", turnOf(um, "6.840403 -12.855752 -19.696155 -6.840403 12.855752 19.696155 6.840403 -12.855752 -19.696155 -6.840403 12.855752 19.696155"),
			0, "0.00000", "", []row{
				{1, "0.00000", "", v6}, {2, "20.00000", "145.00000", v6}, {3, "0.00000", "", v6},
				{4, "0.00000", "", v6}, {5, "0.00000", "", v6}, {6, "0.00000", "", v6},
			}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, err := Harmonics(tt.turn, tt.highest)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mean", inUM(s.Mean), tt.mean, tt.rows[0].source)
			if tt.left != "" {
				near(t, "left over", inUM(s.Left), tt.left, tt.rows[0].source)
			}
			for _, r := range tt.rows {
				o, ok := s.Order(r.times)
				if !ok {
					t.Fatalf("order %d is not there", r.times)
				}
				near(t, fmt.Sprintf("amplitude of order %d", r.times), inUM(o.Amplitude), r.amplitude, r.source)
				if r.high != "" {
					nearAngle(t, fmt.Sprintf("high spot of order %d", r.times), o.High, r.high, 360/float64(r.times), r.source)
				}
				if want := 2*r.times == tt.turn.Positions; o.HalfBlind != want {
					t.Errorf("order %d of %d positions: half-blind %v", r.times, tt.turn.Positions, o.HalfBlind)
				}
			}
		})
	}
}

// Parseval: the shares of all orders of a full turn add up to the whole.
func TestSharesAddUp(t *testing.T) {
	s, err := Harmonics(turnV1, 0)
	if err != nil {
		t.Fatal(err)
	}
	var sum, power float64
	for _, o := range s.Orders {
		sum += o.Share
		if a := inUM(o.Amplitude); o.HalfBlind {
			power += a * a
		} else {
			power += a * a / 2
		}
	}
	near(t, "sum of shares", sum, "1.000000", "Parseval's theorem")
	near(t, "variance", power, "524.305556", v1)
}

func TestOrdersThatReadingsCanTell(t *testing.T) {
	const source = notes + "orders up to (N-1)/2; N/2 half-blindly (Nyquist)"
	for n := 4; n <= MostPositions; n++ {
		turn := Turn{Positions: n}
		for i := range n {
			turn.Points = append(turn.Points, Point{i, um(float64(i * i % 7))})
		}
		s, err := Harmonics(turn, 0)
		if n < 5 {
			refused(t, "four readings", err)
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		want := min(HighestOrder, n/2)
		if len(s.Orders) != want {
			t.Errorf("%d readings: %d orders, want %d\nsource: %s", n, len(s.Orders), want, source)
		}
		for _, o := range s.Orders {
			if o.HalfBlind != (2*o.Times == n) {
				t.Errorf("%d readings, order %d: half-blind %v", n, o.Times, o.HalfBlind)
			}
			gain := math.Sqrt(2 / float64(n))
			if o.HalfBlind {
				gain = math.Sqrt(1 / float64(n))
			}
			if math.Abs(o.gain-gain) > 1e-12 {
				t.Errorf("%d readings, order %d: noise gain %g, want %g", n, o.Times, o.gain, gain)
			}
		}
	}
	near(t, "noise of an amplitude, 8 readings", mustOrder(t, turnV4, 1).Doubt(um(2.5)).Micrometres(), "1.250000", notes+"s sqrt(2/8) for s = 2.5")
	near(t, "noise of an amplitude, 12 readings", mustOrder(t, turnV1, 1).Doubt(um(2.5)).Micrometres(), "1.020621", notes+"s sqrt(2/12) for s = 2.5")
}

// What rounding leaves is nothing; what is merely small stays. A high spot at
// stud 1 is at 0, not at a full period.
func TestSmallAndNothing(t *testing.T) {
	turn := Turn{Positions: 12}
	for i := range 12 {
		th := float64(turn.At(i))
		turn.Points = append(turn.Points, Point{i, um(20*math.Cos(th) + 0.01*math.Cos(3*th))})
	}
	near(t, "small order", inUM(mustOrder(t, turn, 3).Amplitude), "0.0100", "built so")
	if a := mustOrder(t, turn, 2).Amplitude; a != 0 {
		t.Errorf("an order that is not there has %v", a)
	}
	for _, times := range []int{1, 3} {
		if h := mustOrder(t, turn, times).High; h != 0 && h > 1e-6 {
			t.Errorf("order %d is high at %g degrees, want 0", times, h.Degrees())
		}
	}
	if h := mustOrder(t, turnV1, 3).High; h > 1e-6 {
		t.Errorf("V1, order 3 is high at %g degrees, want 0\nsource: %s", h.Degrees(), v1)
	}
	const rayleigh = "by hand: sqrt(2 ln 20) = 2.4477 times sqrt(2/8); 1.96 times sqrt(1/8)"
	near(t, "what noise shows", mustOrder(t, turnV4, 1).FromNoise(um(1)).Micrometres(), "1.2239", rayleigh)
	near(t, "half-blind", mustOrder(t, turnV4, 4).FromNoise(um(1)).Micrometres(), "0.6930", rayleigh)
}

func mustOrder(t *testing.T, turn Turn, times int) Order {
	t.Helper()
	s, err := Harmonics(turn, 0)
	if err != nil {
		t.Fatal(err)
	}
	o, ok := s.Order(times)
	if !ok {
		t.Fatalf("no order %d", times)
	}
	return o
}

// A gap wider than the orders can bridge costs orders, not truth.
func TestGapsCostOrders(t *testing.T) {
	turn := turnOf(um, "0 10 30 48 62 66 58 - - - 10 2")
	s, err := Harmonics(turn, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Orders) == 0 || len(s.Orders) > 3 {
		t.Errorf("three missing in a row leave %d orders", len(s.Orders))
	}
	for _, o := range s.Orders {
		if o.gain > 1.5*math.Sqrt(2.0/9) {
			t.Errorf("order %d is kept with noise gain %g", o.Times, o.gain)
		}
	}
	if got, full := inUM(s.Orders[0].Amplitude), 32.145; math.Abs(got-full) > 2 {
		t.Errorf("tilt with a gap is %g, with all readings %g", got, full)
	}
}

func TestThicknessAndRunout(t *testing.T) {
	th, err := ReadThickness(turnV2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "variation", th.Variation.Millimetres(), "0.012000", v2)
	near(t, "least", th.Least.Value.Millimetres(), "25.974", v2)
	near(t, "where the least is", turnV2.At(th.Least.Position).Degrees(), "240", v2+", ninth of twelve")
	r, err := ReadRunout(turnV1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "runout", inUM(r.Total), "66.000000", v1)
	near(t, "runout of the tilt alone", 2*inUM(r.Orders[0].Amplitude), "64.290398", v1)
	four, err := ReadRunout(turnOf(um, "0 5 9 4"))
	if err != nil || len(four.Orders) != 0 {
		t.Errorf("four readings: orders %v, error %v; want a runout without orders", four.Orders, err)
	}
}

func TestEqualReadingsHaveNothingInThem(t *testing.T) {
	th, err := ReadThickness(turnOf(mm, "25.98 25.98 25.98 25.98 25.98 25.98 25.98 25.98"))
	if err != nil {
		t.Fatal(err)
	}
	if th.Variation != 0 {
		t.Errorf("variation %v", th.Variation)
	}
	for _, o := range th.Orders {
		if o.Amplitude != 0 || o.High != 0 || o.Share != 0 {
			t.Errorf("order %d is %+v", o.Times, o)
		}
	}
}

func TestClosing(t *testing.T) {
	const source = "two steps, or a fifth of the runout if that is more: our rule, counted by hand"
	for _, tt := range []struct {
		name         string
		first, again float64
		runout, step float64
		off          string
		moved        bool
		source       string
	}{
		{"back where it was", 0, 0, 66, 1, "0.000", false, source},
		{"two steps", 0, 2, 5, 1, "2.000", false, source},
		{"more than two steps", 0, 2.5, 5, 1, "2.500", true, source},
		{"a fifth of the runout", 1, -12.2, 66, 1, "-13.200", false, source},
		{"more than a fifth", 1, -12.3, 66, 1, "-13.300", true, source},
	} {
		off, moved, err := ClosingError(um(tt.first), um(tt.again), um(tt.runout), um(tt.step))
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.name, inUM(off), tt.off, tt.source)
		if moved != tt.moved {
			t.Errorf("%s: moved %v, want %v", tt.name, moved, tt.moved)
		}
	}
}

func TestBothFaces(t *testing.T) {
	outer := turnOf(um, "-14 3 22 35 42 44 41 28 2 -22 -33 -28")
	inner := turnOf(um, "16 3 -18 -37 -48 -48 -39 -22 2 20 27 24")
	th, mid, err := BothFaces(outer, inner)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"2", "6", "4", "-2", "-6", "-4", "2", "6", "4", "-2", "-6", "-4"} {
		near(t, fmt.Sprintf("thickness %d", i), inUM(th.Points[i].Value), want, v7)
	}
	tr, err := ReadRunout(th)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "thickness variation", inUM(tr.Total), "12", v7)
	near(t, "thickness, order 2", inUM(tr.Orders[1].Amplitude), "6.110101", v7)
	nearAngle(t, "thickness, order 2", tr.Orders[1].High, "35.446697", 180, v7)
	mr, err := ReadRunout(mid)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "middle", inUM(mr.Total), "76.0", v7)
	for i, want := range []string{"38.808145", "2.886751", "1.666667", "", "0.387473"} {
		if want != "" {
			near(t, fmt.Sprintf("middle, order %d", i+1), inUM(mr.Orders[i].Amplitude), want, v7)
		}
	}
	nearAngle(t, "middle, order 1", mr.Orders[0].High, "135.649367", 360, v7)

	// A position that one face lacks does not count.
	th, _, err = BothFaces(turnOf(um, "1 2 - 4 5"), turnOf(um, "1 - 3 4 5"))
	if err != nil || len(th.Points) != 3 || th.Points[1].Position != 3 || th.Positions != 5 {
		t.Errorf("with gaps: %+v, %v", th, err)
	}
	_, _, err = BothFaces(turnOf(um, "1 2 3 4 5"), turnOf(um, "1 2 3 4"))
	refused(t, "faces of different length", err)
}

func TestRefinish(t *testing.T) {
	const source = "by hand: 23.6 - 0.3 = 23.3; the pair 23.1/22.8 mm is from makers' service information"
	c, err := Refinish(mm(23.6), mm(0.3), mm(23.1), mm(22.8))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "leaves", c.Leaves.Millimetres(), "23.300", source)
	near(t, "over machine-to", c.OverMachineTo.Millimetres(), "0.200", source)
	near(t, "over discard", c.OverDiscard.Millimetres(), "0.500", source)
	for name, f := range map[string]func() (Cut, error){
		"the two limits swapped": func() (Cut, error) { return Refinish(mm(23.6), 0, mm(22.8), mm(23.1)) },
		"a cut that adds":        func() (Cut, error) { return Refinish(mm(23.6), mm(-0.1), mm(23.1), mm(22.8)) },
		"a cut through":          func() (Cut, error) { return Refinish(mm(23.6), mm(23.6), mm(23.1), mm(22.8)) },
		"no number":              func() (Cut, error) { return Refinish(notNumbers[0], 0, mm(23.1), mm(22.8)) },
		"no number for the cut":  func() (Cut, error) { return Refinish(mm(23.6), notNumbers[0], mm(23.1), mm(22.8)) },
	} {
		_, err := f()
		refused(t, name, err)
	}
}

func TestDrum(t *testing.T) {
	d, err := ReadDrum([]unit.Length{mm(281.05), mm(281.12), mm(281.15), mm(281.08)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "largest", d.Largest.Millimetres(), "281.150000", v8)
	near(t, "out of round", d.OutOfRound.Millimetres(), "0.100000", v8)
	near(t, "fitted oval", d.Oval.Millimetres(), "0.107703", v8)
	nearAngle(t, "long axis", d.Axis, "79.099295", 180, v8)

	// V9: three lobes and an offset centre vanish from every diameter.
	radius := func(theta float64) float64 {
		return 140 + 0.05*math.Cos(3*theta-0.3) + 0.04*math.Cos(2*theta-1) + 0.06*math.Cos(theta-2)
	}
	var diameters []unit.Length
	for i, want := range []string{"280.043224", "280.079911", "280.036687", "279.956776", "279.920089", "279.963313"} {
		at := float64(DrumAxis(i, 6))
		two := radius(at) + radius(at+math.Pi)
		near(t, fmt.Sprintf("diameter %d", i), two, want, v9)
		diameters = append(diameters, mm(two))
	}
	d, err = ReadDrum(diameters)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "V9, out of round", d.OutOfRound.Millimetres(), "0.159822", v9)
	near(t, "V9, oval", d.Oval.Millimetres(), "0.160000", v9+", twice 0.080000")
	nearAngle(t, "V9, axis", d.Axis, "28.647890", 180, v9)

	if d, err := ReadDrum([]unit.Length{mm(281), mm(281.1)}); err != nil || d.Fitted {
		t.Errorf("two diameters: %+v, %v; want no ellipse", d, err)
	}
}

func TestShim(t *testing.T) {
	const v5 = notes + "V5"
	s, err := TaperShim(mm(0.127), mm(276), mm(150))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tilt", float64(s.Tilt), "0.000460145", v5)
	near(t, "taper", s.Taper.Millimetres(), "0.069022", v5)
	for _, tt := range []struct {
		rated, off   float64
		want, source string
	}{
		{0.0762, 0, "0.050800", v5}, {0.0762, 15, "0.056922", v5}, {0.0762, 30, "0.071928", v5},
		{0.1524, 0, "0.025400", v5}, {0.1524, 15, "0.044319", v5}, {0.1524, 30, "0.076363", v5},
		{0.2286, 0, "0.101600", v5}, {0.2286, 15, "0.110910", v5}, {0.2286, 30, "0.134543", v5},
	} {
		for _, off := range []float64{tt.off, -tt.off, tt.off - 360} {
			left, err := ShimLeaves(mm(0.127), mm(tt.rated), deg(off))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("left by %g at %g", tt.rated, off), left.Millimetres(), tt.want, tt.source)
		}
	}
	_, err = TaperShim(mm(-0.1), mm(276), mm(150))
	refused(t, "negative runout", err)
	_, err = TaperShim(mm(0.1), 0, mm(150))
	refused(t, "no diameter", err)
	_, err = TaperShim(mm(0.1), mm(276), mm(300))
	refused(t, "plate larger than the rotor", err)
	_, err = ShimLeaves(mm(0.1), mm(-0.1), 0)
	refused(t, "negative rating", err)
	for _, bad := range notNumbers {
		_, err = TaperShim(bad, mm(276), mm(150))
		refused(t, "runout", err)
		_, err = ShimLeaves(mm(0.1), mm(0.1), unit.Angle(bad))
		refused(t, "angle", err)
	}
}

func TestNotNumbersAreRefused(t *testing.T) {
	for _, bad := range notNumbers {
		turn := turnOf(um, "1 2 3 4 5")
		turn.Points[2].Value = bad
		_, err := Harmonics(turn, 0)
		refused(t, "harmonics", err)
		_, err = ReadThickness(turn)
		refused(t, "thickness", err)
		_, err = ReadRunout(turn)
		refused(t, "runout", err)
		_, _, err = BothFaces(turn, turn)
		refused(t, "both faces", err)
		_, err = SeparateHub(turn, turnV4, 5, 2, 0)
		refused(t, "index", err)
		_, err = SeparateHub(turnV4, turn, 5, 2, 0)
		refused(t, "index, second turn", err)
		_, err = SeparateHub(turnV4, movedV, 5, 2, bad)
		refused(t, "index, noise", err)
		_, err = ReadDrum([]unit.Length{mm(280), bad})
		refused(t, "drum", err)
		_, _, err = ClosingError(0, bad, 0, 0)
		refused(t, "closing", err)
		_, _, err = NearestStud(unit.Angle(bad), 5)
		refused(t, "nearest stud", err)
	}
}

func TestTurnsThatCannotBe(t *testing.T) {
	for name, turn := range map[string]Turn{
		"nothing":               {},
		"three readings":        turnOf(um, "1 2 3"),
		"too many missing":      turnOf(um, "1 2 3 - - - - -"),
		"a position twice":      {Positions: 5, Points: []Point{{0, 1}, {1, 1}, {1, 1}, {2, 1}, {3, 1}}},
		"a position too far":    {Positions: 5, Points: []Point{{0, 1}, {1, 1}, {2, 1}, {3, 1}, {5, 1}}},
		"a position before one": {Positions: 5, Points: []Point{{-1, 1}, {1, 1}, {2, 1}, {3, 1}, {4, 1}}},
		"more than we take":     Round(make([]unit.Length, MostPositions+1)...),
	} {
		_, err := ReadRunout(turn)
		refused(t, name, err)
		_, err = Harmonics(turn, 0)
		refused(t, name, err)
	}
	_, err := ReadThickness(turnOf(mm, "20 20 0 20"))
	refused(t, "no thickness", err)
	_, err = ReadThickness(turnOf(mm, "20 20 -20 20"))
	refused(t, "negative thickness", err)
	_, err = Harmonics(turnV1, 7)
	refused(t, "order 7", err)
	_, err = ReadDrum(nil)
	refused(t, "no diameters", err)
}
