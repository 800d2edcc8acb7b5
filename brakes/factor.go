package brakes

import "chock/brakes/unit"

// FactorFriction is where the handbook's factors of drum brakes hold.
var FactorFriction = Figure[unit.Ratio]{
	Value:  0.39,
	Mark:   Memory,
	Source: handbookFactors + ": the middle of that range",
	Scope:  "friction at which the handbook's factors of drum brakes are taken to hold",
}

// UsualFactor is the brake factor of a drum of common proportions where nobody
// has measured its shoes: what the handbook gives, at another friction.
//
//	C = C0 m(μ)/m(μ0)
//
// C0 is [FactorLeadingTrailing], [FactorTwinLeading] or [FactorDuoServo], μ0
// [FactorFriction], and m the [FloatingShoes.Factor] of [TypicalShoes], going
// forward: what one friction gives over another is nearer to the truth than
// the factor of that model itself, which says too much from 0.35 on. Drums of
// one build differ by a quarter. μ as for that model. Source: the figures
// named; The Tribology Handbook, table 8.3, prints 4.0 for a duo-servo at
// 0.35, where this gives 3.5.
func UsualFactor(build Build, friction unit.Ratio) (unit.Ratio, error) {
	shoes := TypicalShoes(unit.Metre)
	m, err := shoes.Factor(build, friction, false)
	if err != nil {
		return 0, err
	}
	there, err := shoes.Factor(build, FactorFriction.Value, false)
	if err != nil {
		return 0, err
	}
	handbook := map[Build]Figure[unit.Ratio]{LeadingTrailing: FactorLeadingTrailing, TwinLeading: FactorTwinLeading, DuoServo: FactorDuoServo}[build]
	return handbook.Value * m.Factor / there.Factor, nil
}
