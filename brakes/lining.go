package brakes

import "chock/brakes/unit"

// lining refuses a thickness that no lining has. Nothing left is a thickness.
func lining(what string, v unit.Length) error {
	if err := finite(what, v); err != nil {
		return err
	}
	if v < 0 {
		return &OutOfRange{what, v.String(), "0 or more"}
	}
	return nil
}

// Pads are the two linings of one wheel: of a disc brake the inner and the
// outer pad, each at its thinnest place.
type Pads struct {
	Thinner   unit.Length // it alone is held against the least thickness
	InnerThin bool        // the thinner one is the inner one
	Apart     unit.Length // inner less outer: negative where the inner is thinner
}

// ReadPads takes the thickness of both linings in m, 0 or more, without their
// steel plates.
//
//	apart = inner - outer
//
// Source: that the thinnest place decides, and that inner and outer are
// compared, is common practice.
func ReadPads(inner, outer unit.Length) (Pads, error) {
	if err := lining("inner lining", inner); err != nil {
		return Pads{}, err
	}
	if err := lining("outer lining", outer); err != nil {
		return Pads{}, err
	}
	return Pads{min(inner, outer), inner < outer, inner - outer}, nil
}
