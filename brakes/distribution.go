package brakes

import (
	"math"

	"chock/brakes/unit"
)

// A Form is what a demand of a distribution rule compares.
type Form int

const (
	// FrontAbove: fr ≤ ff; from SpareFrom to SpareTo else fr ≤ z + Spare.
	FrontAbove Form = iota
	// LargerLine: z ≥ Base + Slope (k - At), k the larger of ff and fr.
	LargerLine
	// RearLine: the same of fr alone.
	RearLine
	// Near: ff and fr both within Spare of z.
	Near
)

// A Demand is what a distribution rule asks for over a range of decelerations
// or, OverUse, of friction used: k, the larger adhesion. The ends belong to the
// range. A figure that a form does not name is zero.
type Demand struct {
	Form                   Form
	OverUse                bool
	From, To               Figure[unit.Ratio]
	Base, Slope, At, Spare Figure[unit.Ratio]
	SpareFrom, SpareTo     Figure[unit.Ratio]
	Strict                 bool // the very line breaks it
}

// A DistributionRule is a published rule for how a new type of vehicle shares
// its brake force, before it is first sold. It is no rule of inspection: a
// vehicle in use that breaks it has not failed anything by that.
type DistributionRule struct {
	ID      string
	Say     string // whose rule, for which vehicles, and what it wants
	Demands []Demand
}

// DistributionRules lists the rules.
func DistributionRules() []DistributionRule {
	order := Demand{Form: FrontAbove, From: OrderFrom, To: OrderTo}
	use := func(slope Figure[unit.Ratio]) Demand {
		return Demand{Form: LargerLine, OverUse: true, From: UseFrom, To: UseTo, Base: UseBase, At: UseFrom, Slope: slope}
	}
	spared := order
	spared.Spare, spared.SpareFrom, spared.SpareTo = InversionSpare, InversionFrom, InversionTo
	return []DistributionRule{
		{ID: "un-13h-use", Say: "UN R13-H, cars, enough slowing for the grip used", Demands: []Demand{use(UseSlopeR13H)}},
		{ID: "un-13h-order", Say: "UN R13-H, cars, front wheels first", Demands: []Demand{order}},
		{ID: "un-13-use", Say: "UN R13 and 71/320/EEC, enough slowing for the grip used", Demands: []Demand{use(UseSlopeR13)}},
		{ID: "un-13-car-order", Say: "UN R13, cars, front wheels first but for a little in between", Demands: []Demand{spared}},
		{ID: "un-13-truck-band", Say: "UN R13, other than cars, both axles near the ideal", Demands: []Demand{
			{Form: Near, From: BandFrom, To: BandTo, Spare: BandSpare},
			{Form: RearLine, From: BandTo, To: OrderTo, Base: BandTo, At: BandLineAt, Slope: BandLineSlope},
		}},
		{ID: "us-135-order", Say: "US FMVSS 135, S7.2, front wheels first", Demands: []Demand{order}},
		{ID: "us-135-torque-wheel", Say: "US FMVSS 135, S7.4, torque wheels, the rear well short of locking", Demands: []Demand{
			{Form: RearLine, From: OrderFrom, To: OrderTo, Slope: TorqueWheelSlope, Strict: true},
		}},
	}
}

// rounding is what sums alone do to a number near 1.
const rounding = 1e-9

// Line is the least deceleration over gravity that a demand with a line asks
// for where k of the road's friction is used.
//
//	Base + Slope (k - At)
func (d Demand) Line(k unit.Ratio) unit.Ratio {
	return d.Base.Value + d.Slope.Value*(k-d.At.Value)
}

// Applies reports whether the demand says anything about this moment.
func (d Demand) Applies(b Balance) bool {
	at := b.Deceleration
	if d.OverUse {
		at = b.Needs()
	}
	return at >= d.From.Value-rounding && at <= d.To.Value+rounding
}

// Kept reports whether the moment is as the demand wants it. What rounding
// alone lifts over a line counts as on it.
func (d Demand) Kept(b Balance) bool {
	z, slack := b.Deceleration, unit.Ratio(rounding)
	if d.Strict {
		slack = -slack
	}
	switch d.Form {
	case LargerLine:
		return z >= d.Line(b.Needs())-slack
	case RearLine:
		return z >= d.Line(b.RearAdhesion)-slack
	case Near:
		return max(b.FrontAdhesion, b.RearAdhesion) <= z+d.Spare.Value+slack && min(b.FrontAdhesion, b.RearAdhesion) >= z-d.Spare.Value-slack
	}
	spared := z >= d.SpareFrom.Value-rounding && z <= d.SpareTo.Value+rounding
	return b.RearAdhesion <= b.FrontAdhesion+slack || spared && b.RearAdhesion <= z+d.Spare.Value+slack
}

// Broken reports whether the rule applies to a moment and is broken by it.
func (r DistributionRule) Broken(b Balance) bool {
	for _, d := range r.Demands {
		if d.Applies(b) && !d.Kept(b) {
			return true
		}
	}
	return false
}

// A Stretch is a range of decelerations over gravity.
type Stretch struct{ From, To unit.Ratio }

// Breaks lists the decelerations at which a split breaks a rule; none where it
// keeps it. They are found in steps of 0.005 g up to 1.2 g, or where the rear
// wheels lift, and their ends to far less; what is shorter than a step may be
// passed over. Range as for [Body.AtPressure].
func (b Body) Breaks(s Split, r DistributionRule) ([]Stretch, error) {
	const step = 0.005
	top := min(1.2, float64(b.Lifts())*(1-rounding))
	at := func(z float64) (bool, error) {
		m, err := b.At(s, unit.Ratio(z))
		return err == nil && r.Broken(m), err
	}
	// edge is where the answer turns between two decelerations.
	edge := func(low, high float64, was bool) (unit.Ratio, error) {
		for range 40 {
			mid := (low + high) / 2
			is, err := at(mid)
			if err != nil {
				return 0, err
			}
			if is == was {
				low = mid
			} else {
				high = mid
			}
		}
		return unit.Ratio(high), nil
	}
	var out []Stretch
	last, was := float64(b.Rolling), false
	for i := 0; ; i++ {
		z := math.Min(float64(b.Rolling)+float64(i)*step, top)
		is, err := at(z)
		if err != nil {
			return nil, err
		}
		if is != was {
			turn := unit.Ratio(z)
			if i > 0 {
				if turn, err = edge(last, z, was); err != nil {
					return nil, err
				}
			}
			if is {
				out = append(out, Stretch{From: turn})
			} else {
				out[len(out)-1].To = turn
			}
		}
		last, was = z, is
		if z >= top {
			break
		}
	}
	if was {
		out[len(out)-1].To = unit.Ratio(top)
	}
	return out, nil
}

const (
	onlyNew = "; for a new type of vehicle before it is sold: never a fault of one in use"
	un13h   = "UN Regulation No. 13-H, annex 5, 3.1, not read again"
	un13    = "UN Regulation No. 13, annex 10, 3.1, not read again"
	us135   = "49 CFR 571.135, S7.2 and S7.4, not read again"
)

// The figures of the rules.
var (
	UseFrom = Figure[unit.Ratio]{
		Value:  0.2,
		Mark:   Published,
		Source: "Directive 71/320/EEC, annex II, appendix, 3.1.1, text of 2007",
		Scope:  "least friction used at which the rules ask for enough slowing; UN R13 and R13-H have the same (from memory)" + onlyNew,
	}
	UseTo = Figure[unit.Ratio]{
		Value:  0.8,
		Mark:   Published,
		Source: "Directive 71/320/EEC, annex II, appendix, 3.1.1, text of 2007",
		Scope:  "most friction used at which the rules ask for enough slowing; UN R13 and R13-H have the same (from memory)" + onlyNew,
	}
	UseBase = Figure[unit.Ratio]{
		Value:  0.1,
		Mark:   Memory,
		Source: un13h + "; " + un13,
		Scope:  "slowing asked for at the least friction used" + onlyNew,
	}
	UseSlopeR13H = Figure[unit.Ratio]{
		Value:  0.70,
		Mark:   Memory,
		Source: un13h + ", and less sure than most",
		Scope:  "cars: slowing asked for over friction used" + onlyNew,
	}
	UseSlopeR13 = Figure[unit.Ratio]{
		Value:  0.85,
		Mark:   Memory,
		Source: un13,
		Scope:  "all classes, and directive 71/320/EEC (from memory): slowing asked for over friction used" + onlyNew,
	}
	OrderFrom = Figure[unit.Ratio]{
		Value:  0.15,
		Mark:   Memory,
		Source: un13h + "; " + us135 + "; a later EU text with the same band was read",
		Scope:  "least deceleration over gravity at which front wheels have to lock first" + onlyNew,
	}
	OrderTo = Figure[unit.Ratio]{
		Value:  0.80,
		Mark:   Memory,
		Source: un13h + "; " + us135 + "; a later EU text with the same band was read",
		Scope:  "most deceleration over gravity at which front wheels have to lock first" + onlyNew,
	}
	InversionFrom = Figure[unit.Ratio]{
		Value:  0.30,
		Mark:   Memory,
		Source: un13,
		Scope:  "cars: deceleration over gravity from which the rear may be a little above the front" + onlyNew,
	}
	InversionTo = Figure[unit.Ratio]{
		Value:  0.45,
		Mark:   Memory,
		Source: un13,
		Scope:  "cars: deceleration over gravity up to which the rear may be a little above the front" + onlyNew,
	}
	InversionSpare = Figure[unit.Ratio]{
		Value:  0.05,
		Mark:   Memory,
		Source: un13,
		Scope:  "cars: by how much the rear's friction used may pass the deceleration there" + onlyNew,
	}
	BandFrom = Figure[unit.Ratio]{
		Value:  0.15,
		Mark:   Memory,
		Source: un13,
		Scope:  "other than cars: least deceleration over gravity of the band" + onlyNew,
	}
	BandTo = Figure[unit.Ratio]{
		Value:  0.30,
		Mark:   Memory,
		Source: un13,
		Scope:  "other than cars: most deceleration over gravity of the band, and where the line above it begins" + onlyNew,
	}
	BandSpare = Figure[unit.Ratio]{
		Value:  0.08,
		Mark:   Published,
		Source: "Directive 71/320/EEC, annex II, appendix, as a stored copy has it, year not kept",
		Scope:  "other than cars: by how much the friction used by each axle may differ from the deceleration; UN R13 has the same (from memory)" + onlyNew,
	}
	BandLineSlope = Figure[unit.Ratio]{
		Value:  0.74,
		Mark:   Memory,
		Source: un13,
		Scope:  "other than cars: slowing asked for over friction used by the rear, above the band; its upper end is taken as that of the other rules" + onlyNew,
	}
	BandLineAt = Figure[unit.Ratio]{
		Value:  0.38,
		Mark:   Memory,
		Source: un13,
		Scope:  "other than cars: friction used by the rear at which the line above the band begins" + onlyNew,
	}
	TorqueWheelSlope = Figure[unit.Ratio]{
		Value:  0.9,
		Mark:   Memory,
		Source: us135,
		Scope:  "light vehicles, measured with torque wheels: the deceleration is more than this share of the rear's friction used" + onlyNew,
	}
)
