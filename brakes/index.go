package brakes

import (
	"fmt"
	"math"
	"math/cmplx"

	"chock/brakes/unit"
)

// A Tilt is a face that leans: what comes once a turn.
type Tilt struct {
	Amplitude unit.Length // half of the runout that it makes
	High      unit.Angle  // counted from stud 1 of the hub
}

// A Seat is one way of putting a rotor on its studs.
type Seat struct {
	Studs  int         // moved on by so many, 0 as it first was
	Runout unit.Length // what the two tilts together make: twice their sum's amplitude
	High   unit.Angle
	Doubt  unit.Length // standard uncertainty of Runout
}

// An Index tells the hub's part of a runout from the rotor's.
type Index struct {
	Hub, Rotor Tilt // the rotor's as it first stood
	Seats      []Seat
	Best       int // the stud move with the least runout, the smaller move where equal
	// Gain is how much the noise of a tilt grows in the rotor's and hub's part
	// for the move that was made, GainBest for the most telling move, BestMove.
	Gain, GainBest float64
	BestMove       int
	// TiltDoubt is the standard uncertainty of the hub's and the rotor's
	// amplitude.
	TiltDoubt unit.Length
	// Rest is the largest less least of what does not come once a turn, the
	// larger of the two sets, less what noise adds. Moving the rotor does not
	// take it away.
	Rest unit.Length
	// Seen is how far the two sets of readings differ in their tilt, and
	// FromNoise what noise alone would show one time in twenty.
	Seen, FromNoise unit.Length
}

// SeparateHub tells hub and rotor apart from two turns of dial readings, the
// second with the rotor moved on by some studs of S.
//
//	z_k = H + R w^k,  w = e^(i 360°/S)
//	R = (z_0 - z_p) / (1 - w^p),  H = z_0 - R
//	runout_k = 2 |z_k|
//
// z_k is the first order of the readings, amplitude and direction as a complex
// number, after a move by k studs; H and R the hub's and the rotor's part.
// Both turns are read at positions that stay on the hub. Noise grows by
// 1/|1 - w^p|. noise is that of one reading, in m, 0 or more; studs is 3 to
// 10; moved is 1 to studs-1; each turn has five readings or more.
//
// It holds only where the rotor slides off its studs and sits on a clean hub
// both times. Only tilt is told apart: what comes twice a turn and more, and
// thickness, is the same at every stud. Source: addition of two tilts as
// vectors, as in two-plane error separation of spindle measurement; the
// practice of re-indexing is in makers' service information.
func SeparateHub(before, after Turn, studs, moved int, noise unit.Length) (Index, error) {
	if err := checkStuds(studs); err != nil {
		return Index{}, err
	}
	if moved < 1 || moved >= studs {
		return Index{}, &OutOfRange{"studs moved", fmt.Sprint(moved), fmt.Sprintf("1 to %d", studs-1)}
	}
	if err := finite("noise", noise); err != nil {
		return Index{}, err
	}
	if !(noise >= 0) {
		return Index{}, &OutOfRange{"noise", noise.String(), "0 or more"}
	}
	for _, t := range []Turn{before, after} {
		if err := t.check(FewestForOrders); err != nil {
			return Index{}, err
		}
	}
	first, second := spectrum(before, 0), spectrum(after, 0)
	if len(first.Orders) == 0 || len(second.Orders) == 0 {
		return Index{}, &OutOfRange{"gap between the readings", "too wide", "readings all the way round"}
	}
	o0, op := first.Orders[0], second.Orders[0]
	z0, zp := phasor(o0), phasor(op)
	w := func(k int) complex128 {
		return cmplx.Rect(1, 2*math.Pi*float64(k%studs)/float64(studs))
	}
	r := (z0 - zp) / (1 - w(moved))
	h := z0 - r

	x := Index{Hub: tilt(h), Rotor: tilt(r), Gain: 1 / cmplx.Abs(1-w(moved))}
	x.BestMove = studs / 2
	x.GainBest = 1 / cmplx.Abs(1-w(x.BestMove))
	u0, up := o0.Doubt(noise), op.Doubt(noise)
	x.TiltDoubt = unit.Length(x.Gain * math.Hypot(float64(u0), float64(up)))
	x.Seen = unit.Length(cmplx.Abs(z0 - zp))
	x.FromNoise = unit.Length(math.Hypot(float64(o0.FromNoise(noise)), float64(op.FromNoise(noise))))
	for k := range studs {
		// z_k = (1-c) z_0 + c z_p, so its doubt follows from the two.
		c := (1 - w(k)) / (1 - w(moved))
		z := h + r*w(k)
		t := tilt(z)
		x.Seats = append(x.Seats, Seat{k, 2 * t.Amplitude, t.High,
			unit.Length(2 * math.Hypot(cmplx.Abs(1-c)*float64(u0), cmplx.Abs(c)*float64(up)))})
		// What rounding alone makes better is not better.
		if k > 0 && x.Seats[k].Runout < times(1-1e-9, x.Seats[x.Best].Runout) {
			x.Best = k
		}
	}
	x.Rest = max(rest(before, o0, noise), rest(after, op, noise))
	return x, nil
}

// rest is the largest less least of t without its order o.
func rest(t Turn, o Order, noise unit.Length) unit.Length {
	left := Turn{Positions: t.Positions}
	for _, p := range t.Points {
		p.Value -= times(math.Cos(float64(t.At(p.Position)-o.High)), o.Amplitude)
		left.Points = append(left.Points, p)
	}
	least, largest := left.ends()
	r := largest.Value - least.Value
	if r <= ScatterMost(len(t.Points), noise) {
		return 0
	}
	return LessScatter(r, len(t.Points), noise)
}

func phasor(o Order) complex128 {
	return cmplx.Rect(float64(o.Amplitude), float64(o.High))
}

func tilt(z complex128) Tilt {
	return Tilt{unit.Length(cmplx.Abs(z)), unit.Angle(wrap(cmplx.Phase(z), 2*math.Pi))}
}

// A Shim is a tapered plate between hub and rotor.
type Shim struct {
	Tilt  unit.Angle  // of the face
	Taper unit.Length // how much thicker one edge of the plate is than the other
}

// TaperShim is the plate that takes out a runout.
//
//	tilt = atan(runout / D),  taper = runout d / D
//
// runout in m, D the diameter at which it was read, d that of the plate. The
// thin edge goes to the high spot of the outer face. runout 0 or more, d no
// more than D. Source: similar triangles; a tapered plate for this purpose is
// described in US patent 5,918,707 (1999, from memory).
func TaperShim(runout, read, plate unit.Length) (Shim, error) {
	if err := finite("runout", runout); err != nil {
		return Shim{}, err
	}
	if !(runout >= 0) {
		return Shim{}, &OutOfRange{"runout", runout.String(), "0 or more"}
	}
	if err := positive("diameter read at", read); err != nil {
		return Shim{}, err
	}
	if err := positive("diameter of the plate", plate); err != nil {
		return Shim{}, err
	}
	if plate > read {
		return Shim{}, &OutOfRange{"diameter of the plate", plate.String(), "no more than the diameter read at"}
	}
	return Shim{unit.Angle(math.Atan(float64(unit.Per(runout, read)))), times(float64(unit.Per(plate, read)), runout)}, nil
}

// ShimLeaves is the runout left by a plate that takes out rated, put in off by
// an angle from where it belongs.
//
//	left = | runout - rated e^(i off) |
//
// runout and rated in m at the same diameter, both 0 or more. Source: the two
// tilts added as vectors.
func ShimLeaves(runout, rated unit.Length, off unit.Angle) (unit.Length, error) {
	for _, v := range []struct {
		name string
		v    unit.Length
	}{{"runout", runout}, {"rating of the plate", rated}} {
		if err := finite(v.name, v.v); err != nil {
			return 0, err
		}
		if !(v.v >= 0) {
			return 0, &OutOfRange{v.name, v.v.String(), "0 or more"}
		}
	}
	if err := finite("angle", off); err != nil {
		return 0, err
	}
	return unit.Length(cmplx.Abs(complex(float64(runout), 0) - cmplx.Rect(float64(rated), float64(off)))), nil
}
