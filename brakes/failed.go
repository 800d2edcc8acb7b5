package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// Circuits is how the pipes of the four wheels are divided. The words are
// those of a vehicle file.
type Circuits string

// The divisions.
const (
	OneCircuit       Circuits = "one"      // a master cylinder with a single compartment
	AxleCircuits     Circuits = "two"      // one for the front, one for the rear
	DiagonalCircuits Circuits = "diagonal" // each for one front wheel and the opposite rear one
)

// A Lost is what one empty circuit leaves of the brakes. It is a reason not to
// drive, never a comfort: the wheels that still brake lock early, the pedal
// drops before they do, and behind them there is nothing.
type Lost struct {
	Circuit string     // the empty one: front, rear or diagonal
	Lock    Lock       // what the road allows with the rest
	Left    unit.Ratio // deceleration over gravity at the pressure that gave the whole system its own, if no wheel locks
	Times   unit.Ratio // how much more pressure gives that deceleration again, if no wheel locks; infinite where none does
}

// LoseCircuit is what the loss of each circuit leaves on a road of friction
// mu, beside a deceleration over gravity that the whole system gave.
//
//	rear lost      z = μ (1 - ψ) / (1 - μ χ)
//	front lost     z = μ ψ / (1 + μ χ)
//	diagonal lost  zf = (μ/2) (1 - ψ) / (1 - Φ - (μ/2) χ)
//	               zr = (μ/2) ψ / (Φ + (μ/2) χ)
//
// Each wheel of an axle has half of its load; rolling resistance and valve are
// as in [Body.Lock]. With the front lost the valve is taken to let all pressure
// through, as most are built to do. In a tandem master cylinder the same foot
// makes the same pressure in the circuit that is left, after more travel.
//
// The deceleration is more than that of rolling alone and less than ψ/χ. One
// circuit is refused: a leak takes all four brakes. Source: [Body.Lock] with
// the brakes that remain; from memory: Limpert, Brake Design and Safety,
// chapter 10.
func (b Body) LoseCircuit(s Split, how Circuits, mu, before unit.Ratio) ([]Lost, error) {
	switch how {
	case OneCircuit:
		return nil, &OutOfRange{"number of brake circuits", "1", "2: with one, a leak anywhere takes all four brakes, and only the parking brake is left"}
	case AxleCircuits, DiagonalCircuits:
	default:
		return nil, &OutOfRange{"division of the brake circuits", fmt.Sprintf("%q", string(how)), "one, two or diagonal"}
	}
	whole, err := b.pressure(s, before)
	if err != nil {
		return nil, err
	}
	if err := above("deceleration over gravity", before, b.Rolling); err != nil {
		return nil, err
	}
	if how == DiagonalCircuits {
		half := Split{s.Front / 2, s.Rear / 2, s.Valve}
		// A wheel has half of its axle's load: the same as half the friction.
		lost, err := b.without("diagonal", half, mu/2, before, whole)
		if err != nil {
			return nil, err
		}
		lost.Lock.Friction = mu
		return []Lost{lost}, nil
	}
	var out []Lost
	for _, rest := range []struct {
		lost string
		Split
	}{{"rear", Split{Front: s.Front}}, {"front", Split{Rear: s.Rear}}} {
		lost, err := b.without(rest.lost, rest.Split, mu, before, whole)
		if err != nil {
			return nil, err
		}
		out = append(out, lost)
	}
	return out, nil
}

// without is what rest gives at a pressure.
func (b Body) without(circuit string, rest Split, mu, before unit.Ratio, p unit.Pressure) (Lost, error) {
	lock, err := b.Lock(rest, mu)
	if err != nil {
		return Lost{}, err
	}
	rear, err := rest.Valve.Rear(p)
	if err != nil {
		return Lost{}, err
	}
	out := Lost{Circuit: circuit, Lock: lock, Times: unit.Ratio(math.Inf(1)),
		Left: unit.Per(p.On(rest.Front)+rear.On(rest.Rear), b.Weight()) + b.Rolling}
	if again, err := b.pressure(rest, before); err == nil {
		out.Times = unit.Per(again, p)
	}
	return out, nil
}

// DiagonalYaw is the torque that turns the vehicle toward the side of the
// front wheel that brakes, when one front wheel and the opposite rear one do.
//
//	M = (Ff tf - Fr tr) / 2
//
// Ff and Fr are the forces of the two wheels, 0 or more; tf and tr the tracks,
// more than 0. Source: moments about the middle of the vehicle.
func DiagonalYaw(front, rear unit.Force, frontTrack, rearTrack unit.Length) (unit.Torque, error) {
	if err := notNegative("brake force of the front wheel", front); err != nil {
		return 0, err
	}
	if err := notNegative("brake force of the rear wheel", rear); err != nil {
		return 0, err
	}
	if err := positive("front track", frontTrack); err != nil {
		return 0, err
	}
	if err := positive("rear track", rearTrack); err != nil {
		return 0, err
	}
	return front.At(frontTrack/2) - rear.At(rearTrack/2), nil
}

// LoseBooster is the deceleration over gravity that the same foot gives when
// the booster helps no more.
//
//	p' = p / B    z' = [Body.AtPressure] at p'
//
// B is the booster's gain, 1 or more; before is what the foot gave with it,
// below the booster's run-out. Past the run-out the booster gave less than B,
// and the loss is less. The pedal has to be pressed B times as hard for the
// same. Source: definition of the gain.
func (b Body) LoseBooster(s Split, gain, before unit.Ratio) (Balance, error) {
	if _, err := Boosted(1, gain); err != nil {
		return Balance{}, err
	}
	p, err := b.pressure(s, before)
	if err != nil {
		return Balance{}, err
	}
	return b.AtPressure(s, times(1/float64(gain), p))
}
