package brakes

import (
	"fmt"
	"math"
	"testing"

	"chock/brakes/unit"
)

const v3 = notes + "V3, hub 0.030 mm at 40°, rotor 0.045 mm at 100°, 5 studs"

// tiltTurn is what a dial reads at n positions of a face with one tilt.
func tiltTurn(n int, parts ...Tilt) Turn {
	t := Turn{Positions: n}
	for i := range n {
		var v unit.Length
		for _, p := range parts {
			v += times(math.Cos(float64(t.At(i)-p.High)), p.Amplitude)
		}
		t.Points = append(t.Points, Point{i, v})
	}
	return t
}

func TestIndexExact(t *testing.T) {
	hub, rotor := Tilt{mm(0.030), deg(40)}, Tilt{mm(0.045), deg(100)}
	for p := 1; p <= 4; p++ {
		turned := rotor
		turned.High += deg(72 * float64(p))
		x, err := SeparateHub(tiltTurn(8, hub, rotor), tiltTurn(12, hub, turned), 5, p, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hub", x.Hub.Amplitude.Millimetres(), "0.030000", v3)
		nearAngle(t, "hub", x.Hub.High, "40.000000", 360, v3)
		near(t, "rotor", x.Rotor.Amplitude.Millimetres(), "0.045000", v3)
		nearAngle(t, "rotor", x.Rotor.High, "100.000000", 360, v3)
		for k, want := range []struct{ runout, high string }{
			{"0.130767", "76.586776"}, {"0.066883", "130.189967"}, {"0.042822", "278.743315"},
			{"0.113265", "347.791542"}, {"0.149211", "32.795772"},
		} {
			near(t, fmt.Sprintf("runout at %d", k), x.Seats[k].Runout.Millimetres(), want.runout, v3)
			nearAngle(t, fmt.Sprintf("high spot at %d", k), x.Seats[k].High, want.high, 360, v3)
		}
		if x.Best != 2 {
			t.Errorf("best is %d, want 2\nsource: %s", x.Best, v3)
		}
		if x.Rest > um(0.001) {
			t.Errorf("two tilts leave %v", x.Rest)
		}
	}
}

func TestIndexAsTyped(t *testing.T) {
	x, err := SeparateHub(turnV4, movedV, 5, 2, um(5))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rotor", x.Rotor.Amplitude.Millimetres(), "0.045711", v4)
	nearAngle(t, "rotor", x.Rotor.High, "100.364132", 360, v4)
	near(t, "hub", x.Hub.Amplitude.Millimetres(), "0.029903", v4)
	nearAngle(t, "hub", x.Hub.High, "40.334206", 360, v4)
	for k, want := range []string{"0.131899", "0.067922", "0.044128", "0.114383", "0.150440"} {
		near(t, fmt.Sprintf("runout at %d", k), x.Seats[k].Runout.Millimetres(), want, v4)
	}
	if x.Best != 2 {
		t.Errorf("best is %d, want 2\nsource: %s", x.Best, v4)
	}
	// Both turns have eight readings: each tilt is known to s sqrt(2/8), its
	// runout to twice that; the two measured seats need nothing else.
	const derived = "by hand: 2 · 5 · sqrt(2/8) µm"
	near(t, "doubt at 0", inUM(x.Seats[0].Doubt), "5.000", derived)
	near(t, "doubt at 2", inUM(x.Seats[2].Doubt), "5.000", derived)
	near(t, "doubt of hub and rotor", inUM(x.TiltDoubt), "1.8587", "by hand: 0.525731 · sqrt(2) · 2.5 µm")
	if x.Seats[4].Doubt <= x.Seats[2].Doubt {
		t.Errorf("a seat nobody read is known better (%v) than one that was read (%v)", x.Seats[4].Doubt, x.Seats[2].Doubt)
	}
}

func TestIndexGain(t *testing.T) {
	const source = notes + "1/|1 - exp(i p 360°/S)|"
	for _, tt := range []struct {
		studs, moved int
		gain         string
		source       string
	}{
		{4, 1, "0.707107", source}, {4, 2, "0.500000", source},
		{5, 1, "0.850651", source}, {5, 2, "0.525731", source}, {5, 3, "0.525731", source}, {5, 4, "0.850651", source},
		{6, 1, "1.000000", source}, {6, 2, "0.577350", source}, {6, 3, "0.500000", source},
		{8, 1, "1.306563", source}, {8, 2, "0.707107", source}, {8, 3, "0.541196", source}, {8, 4, "0.500000", source},
	} {
		x, err := SeparateHub(turnV4, movedV, tt.studs, tt.moved, um(5))
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("gain, %d of %d studs", tt.moved, tt.studs), x.Gain, tt.gain, tt.source)
		if x.GainBest > x.Gain+1e-12 {
			t.Errorf("%d studs: moving %d is called better (%g) than %d (%g)", tt.studs, x.BestMove, x.GainBest, tt.moved, x.Gain)
		}
	}
}

func TestIndexRefuses(t *testing.T) {
	for _, tt := range []struct{ studs, moved int }{{5, 0}, {5, 5}, {5, -1}, {5, 6}, {2, 1}, {11, 1}} {
		_, err := SeparateHub(turnV4, movedV, tt.studs, tt.moved, 0)
		refused(t, fmt.Sprintf("%d of %d studs", tt.moved, tt.studs), err)
	}
	_, err := SeparateHub(turnOf(mm, "0 1 2 1"), movedV, 5, 2, 0)
	refused(t, "four readings", err)
	_, err = SeparateHub(turnV4, movedV, 5, 2, um(-1))
	refused(t, "negative noise", err)
}

// What is not a tilt stays, wherever the rotor goes.
func TestIndexRest(t *testing.T) {
	turn := Turn{Positions: 12}
	for i := range 12 {
		turn.Points = append(turn.Points, Point{i, um(30 * math.Cos(2*float64(turn.At(i))))})
	}
	x, err := SeparateHub(turn, turn, 5, 2, um(1))
	if err != nil {
		t.Fatal(err)
	}
	// 12 positions hit both highs and both lows exactly: 60 µm, less what
	// noise adds in quadrature.
	near(t, "rest", inUM(x.Rest), "59.9", "by hand: sqrt(60² - 3.2585²) = 59.91")
	if x.Hub.Amplitude > um(0.001) || x.Rotor.Amplitude > um(0.001) {
		t.Errorf("a saddle has no tilt, got hub %v and rotor %v", x.Hub, x.Rotor)
	}
}

func TestNearestStud(t *testing.T) {
	const source = "by hand: studs every 72 degrees, number 1 at 0"
	for _, tt := range []struct {
		at     float64
		studs  int
		stud   int
		past   string
		source string
	}{
		{0, 5, 1, "0.000", source}, {350, 5, 1, "-10.000", source}, {10, 5, 1, "10.000", source},
		{-10, 5, 1, "-10.000", source}, {370, 5, 1, "10.000", source}, {360, 5, 1, "0.000", source},
		{77, 5, 2, "5.000", source}, {36, 5, 1, "36.000", source}, {36.1, 5, 2, "-35.900", source},
		{323.9, 5, 5, "35.900", source}, {324.1, 5, 1, "-35.900", source},
		{300, 6, 6, "0.000", source + "; every 60 for six"}, {331, 6, 1, "-29.000", source + "; every 60 for six"},
	} {
		stud, past, err := NearestStud(deg(tt.at), tt.studs)
		if err != nil {
			t.Fatal(err)
		}
		if stud != tt.stud {
			t.Errorf("%g degrees, %d studs: stud %d, want %d\nsource: %s", tt.at, tt.studs, stud, tt.stud, tt.source)
		}
		near(t, fmt.Sprintf("%g degrees past stud %d", tt.at, stud), past.Degrees(), tt.past, tt.source)
	}
	_, _, err := NearestStud(0, 2)
	refused(t, "two studs", err)
}

// The shorter way round, over the mark at 0 and its mirror.
func TestApart(t *testing.T) {
	const source = "by hand"
	for _, tt := range []struct {
		from, to float64
		want     string
		source   string
	}{
		{350, 10, "20", source}, {10, 350, "-20", source},
		{355, 5, "10", source}, {5, 355, "-10", source},
		{0, 180, "180", source}, {180, 0, "180", source}, {0, 181, "-179", source}, {0, 179, "179", source},
		{90, 90, "0", source}, {0, 360, "0", source}, {720, 10, "10", source}, {-350, 20, "10", source},
	} {
		near(t, fmt.Sprintf("from %g to %g", tt.from, tt.to), Apart(deg(tt.from), deg(tt.to)).Degrees(), tt.want, tt.source)
	}
}
