package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// FewestRoundRotor is the number of places that rotor readings are taken at,
// at the least.
const FewestRoundRotor = 4

// A Thickness is what a turn of micrometer readings says about a rotor.
type Thickness struct {
	Least     Point // the thinnest place: it alone is held against a discard dimension
	Largest   Point
	Variation unit.Length // largest less least
	Orders    []Order     // none with fewer than five readings
}

// ReadThickness takes thickness readings in m round one turn, at one distance
// from the rim.
//
//	variation = largest - least
//
// Four to 36 readings, each more than 0. Source: the definition common to
// makers' service information; orders as [Harmonics].
func ReadThickness(t Turn) (Thickness, error) {
	if err := t.check(FewestRoundRotor); err != nil {
		return Thickness{}, err
	}
	for _, p := range t.Points {
		if !(p.Value > 0) {
			return Thickness{}, positive(fmt.Sprintf("thickness %d", p.Position+1), p.Value)
		}
	}
	th := Thickness{Orders: orders(t)}
	th.Least, th.Largest = t.ends()
	th.Variation = th.Largest.Value - th.Least.Value
	return th, nil
}

// A Runout is what a turn of dial readings says about a face.
type Runout struct {
	Total   unit.Length // largest less least
	Least   Point
	Largest Point
	Orders  []Order // none with fewer than five readings
}

// ReadRunout takes dial readings in m round one turn of a face, toward the
// dial positive.
//
//	runout = largest - least
//
// It is the total reading of the indicator, not half of it. Four to 36
// readings. A single dial also reads half of the thickness variation and all
// of the bearing's play; see [BothFaces]. Source: the definition common to
// makers' service information; orders as [Harmonics].
func ReadRunout(t Turn) (Runout, error) {
	if err := t.check(FewestRoundRotor); err != nil {
		return Runout{}, err
	}
	r := Runout{Orders: orders(t)}
	r.Least, r.Largest = t.ends()
	r.Total = r.Largest.Value - r.Least.Value
	return r, nil
}

// orders are the orders of a turn, none where there are too few readings.
func orders(t Turn) []Order {
	if len(t.Points) < FewestForOrders {
		return nil
	}
	return spectrum(t, 0).Orders
}

// ClosingError is how far the dial came back from where it started: the first
// position read again after the turn, less its first reading. More than two
// steps or a fifth of the runout means that the dial or the bearing moved, and
// moved is then true.
//
//	|again - first| > max(2 q, 0.2 runout)    q step of the dial
//
// step is 0 or more. Source: closing the loop of a survey is common practice;
// the two bounds are our estimate.
func ClosingError(first, again, runout, step unit.Length) (off unit.Length, moved bool, err error) {
	for _, v := range []unit.Length{first, again, runout, step} {
		if err := finite("dial reading", v); err != nil {
			return 0, false, err
		}
	}
	off = again - first
	bound := max(2*step, times(float64(ClosingShare.Value), runout))
	// A billionth is left for the last bit: 2 thou less 0 is two steps of 1.
	return off, math.Abs(float64(off)) > float64(bound)*(1+1e-9), nil
}

// BothFaces takes two dials on opposite sides of a rotor apart into what the
// thickness and what the middle of the disc does. Both dials read away from
// the middle as positive.
//
//	t = o + i          change of thickness
//	w = (o - i) / 2    movement of the middle, toward the outer dial
//
// o outer and i inner reading in m. Play of the bearing by e adds e to o and
// takes it from i: it cancels in t and stays in w. The two turns have the
// same positions, and a position counts where both have it. Source: geometry;
// the two-dial reading of thickness is in makers' service information.
func BothFaces(outer, inner Turn) (thickness, middle Turn, err error) {
	if err := outer.check(1); err != nil {
		return Turn{}, Turn{}, err
	}
	if err := inner.check(1); err != nil {
		return Turn{}, Turn{}, err
	}
	if outer.Positions != inner.Positions {
		return Turn{}, Turn{}, &OutOfRange{"number of positions on the inner face",
			fmt.Sprint(inner.Positions), fmt.Sprintf("%d as on the outer", outer.Positions)}
	}
	thickness.Positions, middle.Positions = outer.Positions, outer.Positions
	in := inner.Points
	for _, o := range outer.Points {
		for len(in) > 0 && in[0].Position < o.Position {
			in = in[1:]
		}
		if len(in) == 0 || in[0].Position != o.Position {
			continue
		}
		thickness.Points = append(thickness.Points, Point{o.Position, o.Value + in[0].Value})
		middle.Points = append(middle.Points, Point{o.Position, (o.Value - in[0].Value) / 2})
	}
	return thickness, middle, nil
}

// A Cut is what turning a rotor down leaves.
type Cut struct {
	Leaves        unit.Length
	OverMachineTo unit.Length // negative: the cut may not be made
	OverDiscard   unit.Length // what is left to wear
}

// Refinish works out a cut that takes off the given thickness, both faces
// together, measured from the thinnest place.
//
//	leaves = least - off
//
// Lengths in m; off 0 or more and less than least, and machineTo not below
// discard. Source: makers' service information gives the two limits and says
// that the lowest reading decides.
func Refinish(least, off, machineTo, discard unit.Length) (Cut, error) {
	for _, v := range []struct {
		name string
		v    unit.Length
	}{{"thickness", least}, {"machine-to thickness", machineTo}, {"discard thickness", discard}} {
		if err := positive(v.name, v.v); err != nil {
			return Cut{}, err
		}
	}
	if !(off >= 0 && off < least) {
		return Cut{}, &OutOfRange{"cut", off.String(), "0 or more, and less than the rotor has"}
	}
	if machineTo < discard {
		return Cut{}, &OutOfRange{"machine-to thickness", machineTo.String(), "no less than the discard thickness"}
	}
	left := least - off
	return Cut{left, left - machineTo, left - discard}, nil
}
