package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// A Point is one reading at one of the positions round a turn.
type Point struct {
	Position int // 0 is at stud 1; positions go the way the studs are numbered
	Value    unit.Length
}

// A Turn is a set of readings at equally spaced positions round one turn. A
// position that could not be reached has no point.
type Turn struct {
	Positions int
	Points    []Point // in the order of their positions
}

// Round is the turn of readings that has no position missing.
func Round(values ...unit.Length) Turn {
	t := Turn{Positions: len(values)}
	for i, v := range values {
		t.Points = append(t.Points, Point{i, v})
	}
	return t
}

// At is the angle of position i, counted from stud 1.
func (t Turn) At(i int) unit.Angle {
	return unit.Angle(2 * math.Pi * float64(i) / float64(t.Positions))
}

// check refuses a turn that has fewer than least readings or cannot be one.
func (t Turn) check(least int) error {
	if t.Positions > MostPositions {
		return &OutOfRange{"number of positions", fmt.Sprint(t.Positions), fmt.Sprintf("%d or fewer", MostPositions)}
	}
	if len(t.Points) < least {
		return &OutOfRange{"number of readings", fmt.Sprint(len(t.Points)), fmt.Sprintf("%d or more", least)}
	}
	before := -1
	for _, p := range t.Points {
		if p.Position <= before || p.Position >= t.Positions {
			return &OutOfRange{"position", fmt.Sprint(p.Position + 1), fmt.Sprintf("1 to %d, each once and in order", t.Positions)}
		}
		before = p.Position
		if v := float64(p.Value); math.IsNaN(v) || math.IsInf(v, 0) {
			return finite(fmt.Sprintf("reading %d", p.Position+1), p.Value)
		}
	}
	return nil
}

// ends returns the points with the least and the largest reading, the first
// of each where several are equal. There must be one.
func (t Turn) ends() (least, largest Point) {
	least, largest = t.Points[0], t.Points[0]
	for _, p := range t.Points[1:] {
		if p.Value < least.Value {
			least = p
		}
		if p.Value > largest.Value {
			largest = p
		}
	}
	return least, largest
}

// wrap brings an angle into 0 up to one period. What rounding alone keeps
// from a full period counts as 0, so that a high spot at stud 1 is not
// printed as one at 360.
func wrap(a, period float64) float64 {
	a = math.Mod(a, period)
	if a < 0 {
		a += period
	}
	if period-a < 1e-9 {
		a = 0
	}
	return a
}

// Apart is the way from one direction to another by the shorter side: more
// than -180 degrees, and 180 at most. From 350 to 10 it is 20, from 10 to 350
// it is -20.
func Apart(from, to unit.Angle) unit.Angle {
	d := math.Mod(float64(to-from), 2*math.Pi)
	switch {
	case d > math.Pi:
		d -= 2 * math.Pi
	case d <= -math.Pi:
		d += 2 * math.Pi
	}
	return unit.Angle(d)
}

// NearestStud is the stud nearest to a direction, counted from 1, and how far
// past it (or, negative, before it) the direction lies. Half way between two
// studs it is the earlier one. studs is 3 to 10.
func NearestStud(at unit.Angle, studs int) (stud int, past unit.Angle, err error) {
	if err := checkStuds(studs); err != nil {
		return 0, 0, err
	}
	if err := finite("direction", at); err != nil {
		return 0, 0, err
	}
	pitch := 2 * math.Pi / float64(studs)
	k := int(math.Ceil(wrap(float64(at), 2*math.Pi)/pitch - 0.5 - 1e-9))
	stud = k%studs + 1
	return stud, Apart(unit.Angle(float64(k)*pitch), at), nil
}

func checkStuds(studs int) error {
	if studs < 3 || studs > 10 {
		return &OutOfRange{"number of studs", fmt.Sprint(studs), "3 to 10"}
	}
	return nil
}
