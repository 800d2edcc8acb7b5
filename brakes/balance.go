package brakes

import (
	"fmt"
	"math"

	"chock/brakes/unit"
)

// Braking moves load from the rear axle to the front one, so brakes that share
// their force in one proportion suit one deceleration only. In what follows z
// is a deceleration over that of gravity, Φ the rear's share of all brake
// force, μ the friction between tyre and road, and
//
//	W = front load + rear load, standing
//	ψ = rear load / W
//	χ = height of the centre of gravity / wheelbase
//
// The road is level and straight, left and right are alike, springs and tyres
// do not give, and the air does not brake.

// An End is one of the two axles, or both at once.
type End int

// The ends of a vehicle. NoEnd is none of them.
const (
	NoEnd End = iota
	FrontEnd
	RearEnd
	BothEnds
)

func (e End) String() string {
	return [...]string{"none", "front", "rear", "both"}[e]
}

// A Body is how a vehicle stands on its axles.
type Body struct {
	Front, Rear  unit.Force // on both wheels of the axle, standing level
	Wheelbase    unit.Length
	CentreHeight unit.Length // of gravity, over the ground
	Rolling      unit.Ratio  // resistance of rolling tyres over weight; 0 leaves it out
}

// Weight is W.
func (b Body) Weight() unit.Force { return b.Front + b.Rear }

// RearShare is ψ, the rear's share of the weight.
func (b Body) RearShare() unit.Ratio { return unit.Per(b.Rear, b.Weight()) }

// Steepness is χ: by how much of the weight each g of braking loads the front.
func (b Body) Steepness() unit.Ratio { return unit.Per(b.CentreHeight, b.Wheelbase) }

// Lifts is the deceleration at which the rear wheels leave the road.
//
//	z = ψ / χ
func (b Body) Lifts() unit.Ratio { return b.RearShare() / b.Steepness() }

func (b Body) check() error {
	for _, of := range []struct {
		name string
		load unit.Force
	}{{"front axle load", b.Front}, {"rear axle load", b.Rear}} {
		if err := above(of.name, of.load, 0); err != nil {
			return err
		}
	}
	if err := positive("wheelbase", b.Wheelbase); err != nil {
		return err
	}
	if err := positive("height of the centre of gravity", b.CentreHeight); err != nil {
		return err
	}
	if err := notNegative("rolling resistance", b.Rolling); err != nil {
		return err
	}
	if b.Rolling >= 0.2 {
		return &OutOfRange{"rolling resistance", fmt.Sprint(b.Rolling), "less than 0.2 of the weight, a road"}
	}
	return nil
}

// Loads is what each axle carries at a deceleration.
//
//	Nf = W (1 - ψ + z χ)    Nr = W (ψ - z χ)
//
// Loads in N and lengths in m, all more than 0; z is 0 or more, and less than
// ψ/χ, where the rear wheels would lift. Source: balance of moments on a
// level road; from memory: Limpert, Brake Design and Safety, chapter 7.
func (b Body) Loads(z unit.Ratio) (front, rear unit.Force, err error) {
	if err := b.check(); err != nil {
		return 0, 0, err
	}
	if err := notNegative("deceleration over gravity", z); err != nil {
		return 0, 0, err
	}
	moved := times(float64(z*b.Steepness()), b.Weight())
	if !(moved < b.Rear) {
		return 0, 0, &OutOfRange{"deceleration", fmt.Sprintf("%.3f g", float64(z)), fmt.Sprintf("less than %.3f g, where the rear wheels lift", float64(b.Lifts()))}
	}
	return b.Front + moved, b.Rear - moved, nil
}

// IdealShare is the rear's share of brake force at which both axles use the
// same friction at a deceleration.
//
//	Φ = ψ - z χ
//
// Range and source as for [Body.Loads].
func (b Body) IdealShare(z unit.Ratio) (unit.Ratio, error) {
	_, rear, err := b.Loads(z)
	if err != nil {
		return 0, err
	}
	return unit.Per(rear, b.Weight()), nil
}

// IdealRear is the ideal distribution as a curve: the rear brake force that
// goes with a front one when both axles use the same friction. Both are over
// the weight.
//
//	xr = √(a² + xf/χ) - a - xf    a = (1 - ψ)/(2χ)
//
// xf is 0 or more, and so small that the rear wheels stay on the road. Source:
// the two forces of [Body.Loads] with z taken out; from memory: Limpert, Brake
// Design and Safety, equation 7-13.
func (b Body) IdealRear(front unit.Ratio) (unit.Ratio, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	if err := notNegative("front brake force over weight", front); err != nil {
		return 0, err
	}
	psi, chi := float64(b.RearShare()), float64(b.Steepness())
	a := (1 - psi) / (2 * chi)
	part := float64(front) / chi
	z := part / (math.Sqrt(a*a+part) + a) // without taking a from its like
	if _, _, err := b.Loads(unit.Ratio(z)); err != nil {
		return 0, err
	}
	return unit.Ratio(z) - front, nil
}

// A Split is what pressure makes of the brakes of each axle: brake force at
// the road over line pressure, which is an area. Where only the share is known
// any pressure will do: see [ShareSplit].
type Split struct {
	Front, Rear unit.Area
	Valve       Valve // in the line to the rear; the zero Valve is none
}

// ShareSplit is the split of brakes of which only the rear's share is known,
// 0 to 1. Its pressures mean nothing.
func ShareSplit(rear unit.Ratio) (Split, error) {
	if err := finite("rear share", rear); err != nil {
		return Split{}, err
	}
	if rear < 0 || rear > 1 {
		return Split{}, &OutOfRange{"rear share", fmt.Sprint(rear), "0 to 1"}
	}
	return Split{Front: unit.Area(1 - rear), Rear: unit.Area(rear)}, nil
}

// Share is Φ while the valve lets all pressure through.
//
//	Φ = Gr / (Gf + Gr)
func (s Split) Share() unit.Ratio { return unit.Per(s.Rear, s.Front+s.Rear) }

// Rebored is the split with another rear wheel-cylinder bore at every rear
// wheel.
//
//	Gr' = Gr (to/from)²
//
// Bores in m, more than 0. Source: [AreaRatio].
func (s Split) Rebored(from, to unit.Length) (Split, error) {
	k, err := AreaRatio(from, to)
	if err != nil {
		return Split{}, err
	}
	s.Rear = times(float64(k), s.Rear)
	return s, nil
}

func (s Split) check() error {
	if err := notNegative("gain of the front brakes", s.Front); err != nil {
		return err
	}
	if err := notNegative("gain of the rear brakes", s.Rear); err != nil {
		return err
	}
	if !(s.Front+s.Rear > 0) {
		return &OutOfRange{"gain of the brakes", "0 at both axles", "more than 0 at one of them"}
	}
	return s.Valve.check()
}

// RoadGain is the brake force of the two brakes of an axle at the road, over
// line pressure, by their brake factor.
//
//	G = 2 C A r / R
//
// C is the friction force of one brake over the force on one of its shoes or
// pads (2μ for a disc), A the area that makes this force, r the radius at
// which the friction acts (half of a drum's diameter), R the radius of the
// rolling tyre. All are more than 0. Source: definition of the brake factor
// and the law of the lever.
func RoadGain(factor unit.Ratio, piston unit.Area, radius, tyre unit.Length) (unit.Area, error) {
	if err := above("brake factor", factor, 0); err != nil {
		return 0, err
	}
	if err := above("piston area", piston, 0); err != nil {
		return 0, err
	}
	if err := positive("radius of the brake", radius); err != nil {
		return 0, err
	}
	if err := positive("radius of the tyre", tyre); err != nil {
		return 0, err
	}
	return times(float64(2*factor*unit.Per(radius, tyre)), piston), nil
}

// RoadGainOf is [RoadGain] where the torque of one brake over line pressure is
// known, which is a volume.
//
//	G = 2 T/p / R
//
// Both are more than 0. Source: law of the lever.
func RoadGainOf(oneWheel unit.Volume, tyre unit.Length) (unit.Area, error) {
	if err := above("torque of one brake over line pressure", oneWheel, 0); err != nil {
		return 0, err
	}
	if err := positive("radius of the tyre", tyre); err != nil {
		return 0, err
	}
	return unit.Area(2 * float64(oneWheel) / float64(tyre)), nil
}

// MostGrip is the largest friction between tyre and road that is taken: beyond
// it a number was typed in the wrong place.
const MostGrip unit.Ratio = 1.5

func grip(mu unit.Ratio) error {
	if err := above("friction of the road", mu, 0); err != nil {
		return err
	}
	if mu > MostGrip {
		return &OutOfRange{"friction of the road", fmt.Sprint(mu), fmt.Sprintf("no more than %v", float64(MostGrip))}
	}
	return nil
}

// RoadFriction stands in where nobody gives another.
var RoadFriction = Figure[unit.Ratio]{
	Value:  0.8,
	Mark:   Estimate,
	Source: "our choice: good tyres on a dry, clean road; a wet one has perhaps half of it, ice a tenth",
	Scope:  "friction between tyre and road where nobody gives another",
}

// LiningFrictionApart says how well the friction of a lining is known.
var LiningFrictionApart = Figure[unit.Ratio]{
	Value:  0.05,
	Mark:   Estimate,
	Source: "our choice: half of the band that one letter on a lining's edge stands for",
	Scope:  "by how much a lining's friction may be off, at either axle and apart from the other's",
}

// A Balance is one moment of a stop.
type Balance struct {
	Pressure     unit.Pressure // at the front; it means nothing for a [ShareSplit]
	RearPressure unit.Pressure // behind the valve

	FrontForce, RearForce unit.Force // brake force at the road, both wheels
	Deceleration          unit.Ratio // z
	FrontLoad, RearLoad   unit.Force

	// Friction that the axle's tyres use, from 0 to what the road has: its
	// brake force over its load.
	FrontAdhesion, RearAdhesion unit.Ratio
}

// First is the end whose wheels are nearer to locking.
func (b Balance) First() End { return lesser(b.RearAdhesion, b.FrontAdhesion) }

// lesser is the front where its amount is the smaller one, else the rear; what
// rounding alone tells apart is both.
func lesser(front, rear unit.Ratio) End {
	switch d := float64(rear - front); {
	case math.Abs(d) <= 1e-9*math.Min(float64(front), float64(rear)):
		return BothEnds
	case d > 0:
		return FrontEnd
	}
	return RearEnd
}

// Needs is the friction that the road must have for this moment: the larger
// of the two adhesions.
func (b Balance) Needs() unit.Ratio { return max(b.FrontAdhesion, b.RearAdhesion) }

// Efficiency is how much of that friction the vehicle turns into deceleration.
//
//	z / max(ff, fr)    1 where both axles use the same
func (b Balance) Efficiency() unit.Ratio { return b.Deceleration / b.Needs() }

// AtPressure is the balance at a line pressure.
//
//	Ff = Gf p    Fr = Gr v(p)    z = (Ff + Fr)/W + fR
//	ff = Ff/Nf   fr = Fr/Nr
//
// v is what [Valve.Rear] makes of p, fR the rolling resistance; it slows the
// vehicle and does not tell on the tyres. p in Pa, 0 or more. Refused where
// the rear wheels would lift. Source: [Body.Loads]; the adhesion as UN R13-H,
// annex 5, and UN R13, annex 10, define it (from memory).
func (b Body) AtPressure(s Split, p unit.Pressure) (Balance, error) {
	if err := s.check(); err != nil {
		return Balance{}, err
	}
	rear, err := s.Valve.Rear(p)
	if err != nil {
		return Balance{}, err
	}
	if err := b.check(); err != nil {
		return Balance{}, err
	}
	out := Balance{Pressure: p, RearPressure: rear, FrontForce: p.On(s.Front), RearForce: rear.On(s.Rear)}
	out.Deceleration = unit.Per(out.FrontForce+out.RearForce, b.Weight()) + b.Rolling
	if out.FrontLoad, out.RearLoad, err = b.Loads(out.Deceleration); err != nil {
		return Balance{}, err
	}
	out.FrontAdhesion = unit.Per(out.FrontForce, out.FrontLoad)
	out.RearAdhesion = unit.Per(out.RearForce, out.RearLoad)
	return out, nil
}

// At is the balance at a deceleration over gravity: [Body.AtPressure] at the
// pressure that it takes.
//
//	p = T/(Gf + Gr)                             up to the valve's knee
//	p = (T - (1 - s) Gr pk)/(Gf + s Gr)         beyond
//	T = (z - fR) W
//
// z is no less than the rolling resistance and less than ψ/χ.
func (b Body) At(s Split, z unit.Ratio) (Balance, error) {
	p, err := b.pressure(s, z)
	if err != nil {
		return Balance{}, err
	}
	return b.AtPressure(s, p)
}

func (b Body) pressure(s Split, z unit.Ratio) (unit.Pressure, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if _, _, err := b.Loads(z); err != nil {
		return 0, err
	}
	if z < b.Rolling {
		return 0, &OutOfRange{"deceleration", fmt.Sprintf("%.4g g", float64(z)),
			fmt.Sprintf("no less than that of rolling alone, %.4g g", float64(b.Rolling))}
	}
	total := times(float64(z-b.Rolling), b.Weight())
	p := total.Over(s.Front + s.Rear)
	if s.Valve.None() || p <= s.Valve.Knee {
		return p, nil
	}
	held := times(1-float64(s.Valve.Slope), s.Valve.Knee).On(s.Rear)
	through := s.Front + times(float64(s.Valve.Slope), s.Rear)
	if !(through > 0) {
		return 0, &OutOfRange{"deceleration", fmt.Sprintf("%.3f g", float64(z)), "what the rear brakes give behind a valve that lets no more through"}
	}
	return (total - held).Over(through), nil
}

// A Lock is when wheels lock on a road.
type Lock struct {
	Friction unit.Ratio // of the road
	// Deceleration over gravity at which each axle locks, as if the other
	// never did. Infinite where it cannot.
	Front, Rear unit.Ratio
	First       End
	Best        unit.Ratio // without a locked wheel
}

// Efficiency is the best deceleration over what the road would allow.
func (l Lock) Efficiency() unit.Ratio { return l.Best / l.Friction }

// Lock is which axle locks first on a road, and at which deceleration.
//
//	zf = (μ (1 - ψ) + fR (1 - Φ)) / (1 - Φ - μ χ)
//	zr = (μ ψ + fR Φ) / (Φ + μ χ)
//
// without a valve; beyond its knee the same balance is solved with the force
// that it holds back. The smaller of the two locks first, and is the best
// deceleration without a locked wheel. μ is more than 0. Refused where the
// rear wheels would lift before any wheel locks. Source: Ff = μ Nf and
// Fr = μ Nr with [Body.Loads]; with rolling resistance from memory: Wong,
// Theory of Ground Vehicles, chapter 3.
func (b Body) Lock(s Split, mu unit.Ratio) (Lock, error) {
	if err := grip(mu); err != nil {
		return Lock{}, err
	}
	if err := s.check(); err != nil {
		return Lock{}, err
	}
	if err := b.check(); err != nil {
		return Lock{}, err
	}
	l := Lock{Friction: mu, Front: b.locks(s, mu, FrontEnd), Rear: b.locks(s, mu, RearEnd)}
	l.Best = min(l.Front, l.Rear)
	// A lift is no lock: it comes first only where the rear has no brake.
	if !(l.Best < b.Lifts()*(1+1e-12)) {
		return Lock{}, &OutOfRange{"friction of the road", fmt.Sprint(mu), "so little that a wheel locks before the rear wheels lift"}
	}
	l.First = lesser(l.Front, l.Rear)
	return l, nil
}

// A piece is a run of pressures over which both forces are straight lines.
type piece struct {
	from, to    float64 // Pa
	front, rear float64 // gains
	held        float64 // N at the rear, the line drawn back to p = 0
}

func (s Split) pieces() []piece {
	first := piece{to: math.Inf(1), front: float64(s.Front), rear: float64(s.Rear)}
	if s.Valve.None() {
		return []piece{first}
	}
	knee, slope := float64(s.Valve.Knee), float64(s.Valve.Slope)
	first.to = knee
	return []piece{first, {from: knee, to: math.Inf(1), front: first.front, rear: slope * first.rear, held: (1 - slope) * knee * first.rear}}
}

// locks is the deceleration at which one axle reaches μ, infinite where it
// never does.
func (b Body) locks(s Split, mu unit.Ratio, end End) unit.Ratio {
	w, m, chi, roll := float64(b.Weight()), float64(mu), float64(b.Steepness()), float64(b.Rolling)
	for _, q := range s.pieces() {
		// F - μ N is a straight line in p.
		force, gain, load, moves := q.held, q.rear, float64(b.Rear), -m*chi
		if end == FrontEnd {
			force, gain, load, moves = 0, q.front, float64(b.Front), m*chi
		}
		if gain == 0 && force == 0 {
			continue // no brake
		}
		both := q.front + q.rear
		at0 := force - m*load - moves*(q.held+roll*w)
		rise := gain - moves*both
		if p := -at0 / rise; rise > 0 && p >= q.from*(1-rounding) && p <= q.to {
			return unit.Ratio((q.held+both*p)/w + roll)
		}
	}
	return unit.Ratio(math.Inf(1))
}

// A Span is a range of decelerations over which one end's wheels are nearer
// to locking.
type Span struct {
	From, To unit.Ratio // deceleration over gravity
	First    End
}

// Order lists which end's wheels lock first over all decelerations up to where
// the rear wheels lift. Without a valve the order turns once at most, at the
// critical deceleration:
//
//	z = (ψ - Φ) / χ    front below it, rear above
//
// With one it may turn again beyond the knee, where
//
//	χ x² - (ψ - Φs - fR χ) x + (1 - s) Gr pk Gf/(Gf + s Gr)/W = 0
//	x = z - fR    Φs = s Gr/(Gf + s Gr)
//
// Range as for [Body.AtPressure]; both gains more than 0. Source: ff = fr.
func (b Body) Order(s Split) ([]Span, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	for _, g := range []struct {
		name string
		gain unit.Area
	}{{"gain of the front brakes", s.Front}, {"gain of the rear brakes", s.Rear}} {
		if err := above(g.name, g.gain, 0); err != nil {
			return nil, err
		}
	}
	w, psi, chi, roll := float64(b.Weight()), float64(b.RearShare()), float64(b.Steepness()), float64(b.Rolling)
	lifts := float64(b.Lifts())
	var turns []float64
	for _, q := range s.pieces() {
		both := q.front + q.rear
		low, high := (q.held+both*q.from)/w, (q.held+both*q.to)/w
		for _, x := range roots(chi, q.rear/both-psi+roll*chi, q.held*q.front/both/w) {
			if z := x + roll; x > 0 && x >= low*(1-rounding) && x <= high && z < lifts {
				turns = append(turns, z)
			}
		}
	}
	var out []Span
	from := roll
	for _, to := range append(turns, lifts) {
		if to-from <= rounding && len(out) > 0 {
			out[len(out)-1].To = unit.Ratio(to) // one turn, found from both sides of the knee
			from = to
			continue
		}
		mid, err := b.At(s, unit.Ratio((from+to)/2))
		if err != nil {
			return nil, err
		}
		if n := len(out); n > 0 && out[n-1].First == mid.First() {
			out[n-1].To = unit.Ratio(to) // it touched, and did not cross
		} else {
			out = append(out, Span{unit.Ratio(from), unit.Ratio(to), mid.First()})
		}
		from = to
	}
	return out, nil
}

// Critical is the deceleration over gravity above which the rear wheels lock
// first: (ψ - Φ)/χ without a valve, 0 where they do from the first touch of
// the pedal, infinite where the valve always holds back enough. A valve may
// turn the order back again further on: see [Body.Order].
func (b Body) Critical(s Split) (unit.Ratio, error) {
	spans, err := b.Order(s)
	if err != nil {
		return 0, err
	}
	for i, span := range spans {
		switch {
		case span.First != RearEnd:
		case i == 0:
			return 0, nil
		default:
			return span.From, nil
		}
	}
	return unit.Ratio(math.Inf(1)), nil
}

// roots are those of a x² + b x + c, the lesser first, for a more than 0 and
// c no less than 0.
func roots(a, b, c float64) []float64 {
	d := b*b - 4*a*c
	if d < 0 || b >= 0 {
		return nil // none, or none above 0
	}
	q := (-b + math.Sqrt(d)) / 2
	if c == 0 {
		return []float64{q / a}
	}
	return []float64{c / q, q / a}
}
