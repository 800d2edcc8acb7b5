package brakes

import (
	"math"
	"slices"
	"testing"

	"chock/brakes/unit"
	"pgregory.net/rapid"
)

// way reads the word of a published example.
func way(t *testing.T, word string) Turning {
	t.Helper()
	switch word {
	case "leading":
		return Leading
	case "trailing":
		return Trailing
	}
	t.Fatalf("%q is neither leading nor trailing", word)
	return 0
}

func lengthAt(t *testing.T, in []string, i int) unit.Length { return amount[unit.Length](t, in[i]) }

// shoeOf reads drum radius, width, pivot, two angles and, where there is one,
// the arm.
func shoeOf(t *testing.T, in []string) PivotedShoe {
	t.Helper()
	s := PivotedShoe{Drum: lengthAt(t, in, 0), Width: lengthAt(t, in, 1), Pivot: lengthAt(t, in, 2),
		From: amount[unit.Angle](t, in[3]), To: amount[unit.Angle](t, in[4]), Arm: 1}
	if len(in) > 5 {
		s.Arm = lengthAt(t, in, 5)
	}
	return s
}

func momentOf(t *testing.T, which string, s PivotedShoe, friction string) unit.Volume {
	t.Helper()
	m, err := s.Moments(amount[unit.Ratio](t, friction))
	must(t, m, err)
	return map[string]unit.Volume{"friction": m.Friction, "normal": m.Normal}[which]
}

// loadOf reads WAY SHOE FRICTION FORCE.
func loadOf(t *testing.T, in []string, outside bool) ShoeLoad {
	t.Helper()
	s := shoeOf(t, in[1:7])
	s.Outside = outside
	l, err := s.PressedBy(amount[unit.Ratio](t, in[7]), amount[unit.Force](t, in[8]), way(t, in[0]))
	return must(t, l, err)
}

func padOf(t *testing.T, in []string, contact func(Pad) (Contact, error)) Contact {
	t.Helper()
	c, err := contact(Pad{lengthAt(t, in, 0), lengthAt(t, in, 1), amount[unit.Angle](t, in[2])})
	return must(t, c, err)
}

func blockOf(t *testing.T, in []string) (unit.Force, unit.Torque) {
	t.Helper()
	b := Block{Arm: lengthAt(t, in, 2), Normal: lengthAt(t, in, 3), Offset: lengthAt(t, in, 4), Drum: lengthAt(t, in, 5)}
	n, torque, err := b.PressedBy(amount[unit.Ratio](t, in[6]), amount[unit.Force](t, in[1]), way(t, in[0]))
	must(t, n, err)
	return n, torque
}

// factorOf is the factor of a build of common proportions, or of a disc.
func factorOf(t *testing.T, build string, friction unit.Ratio) Factor {
	t.Helper()
	if build == "disc" {
		f, err := DiscFactor(friction)
		return must(t, f, err)
	}
	for _, b := range []Build{LeadingTrailing, TwinLeading, DuoServo} {
		if b.String() == build {
			f, err := TypicalShoes(1).Factor(b, friction, false)
			return must(t, f, err)
		}
	}
	t.Fatalf("no build %q", build)
	return Factor{}
}

func padForce(t *testing.T, in []string) unit.Force {
	return amount[unit.Pressure](t, in[3]).On(padOf(t, in, UniformWear).Carrying)
}

func padTorque(t *testing.T, in []string) unit.Torque {
	t.Helper()
	c := padOf(t, in, UniformWear)
	q, err := DiscTorque(amount[unit.Ratio](t, in[3]), amount[unit.Pressure](t, in[4]).On(c.Carrying), c.Radius)
	return must(t, q, err)
}

func bandOf(t *testing.T, letter string) Band {
	t.Helper()
	b, ok := bandNamed(letter[0])
	if !ok {
		t.Fatalf("no letter %q", letter)
	}
	return b
}

func discFactor(friction unit.Ratio) (unit.Ratio, error) {
	f, err := DiscFactor(friction)
	return f.Factor, err
}

var torqueOps = map[string]operation{
	"pad-force":      func(t *testing.T, in []string) any { return padForce(t, in) },
	"pad-torque":     func(t *testing.T, in []string) any { return padTorque(t, in) },
	"pad-torque-one": func(t *testing.T, in []string) any { return padTorque(t, in) / 2 },
	"pad-radius":     func(t *testing.T, in []string) any { return padOf(t, in, UniformWear).Radius },
	"new-pad-radius": func(t *testing.T, in []string) any { return padOf(t, in, UniformPressure).Radius },
	"pad-line":       func(t *testing.T, in []string) any { return padOf(t, in, UniformWear).ForceLine },
	"round-delta": func(t *testing.T, in []string) any {
		c, err := RoundPad(times(float64(amount[unit.Ratio](t, in[0])), unit.Metre), unit.Metre)
		return must(t, c, err).Radius.Metres()
	},
	"round-pads": func(t *testing.T, in []string) any {
		c, err := RoundPad(lengthAt(t, in, 1), lengthAt(t, in, 2))
		must(t, c, err)
		both, err := DiscTorque(amount[unit.Ratio](t, in[3]), amount[unit.Pressure](t, in[4]).On(c.Carrying), c.Radius)
		return times(float64(amount[unit.Ratio](t, in[0]))/2, must(t, both, err))
	},
	"block":       func(t *testing.T, in []string) any { _, q := blockOf(t, in); return q },
	"block-force": func(t *testing.T, in []string) any { n, _ := blockOf(t, in); return n },
	"block-friction": func(t *testing.T, in []string) any {
		q, err := BlockFriction(amount[unit.Ratio](t, in[0]), amount[unit.Angle](t, in[1]))
		return must(t, q, err)
	},
	"friction-radius": func(t *testing.T, in []string) any {
		q, err := FrictionRadius(lengthAt(t, in, 0), amount[unit.Angle](t, in[1]))
		return must(t, q, err)
	},
	"even-pivot": func(t *testing.T, in []string) any {
		q, err := EvenPivot(lengthAt(t, in, 0), amount[unit.Angle](t, in[1]))
		return must(t, q, err)
	},
	"rubbing": func(t *testing.T, in []string) any {
		q, err := FrictionRadius(lengthAt(t, in, 2), amount[unit.Angle](t, in[3]))
		must(t, q, err)
		return times(float64(amount[unit.Ratio](t, in[1])), amount[unit.Force](t, in[0])).At(q)
	},
	"shoe-moment": func(t *testing.T, in []string) any { return momentOf(t, in[0], shoeOf(t, in[1:6]), in[6]) },
	"shoe-moment-at": func(t *testing.T, in []string) any {
		v := momentOf(t, in[0], shoeOf(t, in[1:6]), in[6])
		return unit.Torque(float64(v) * float64(amount[unit.Pressure](t, in[7])))
	},
	"outside-moment": func(t *testing.T, in []string) any {
		s := shoeOf(t, in[1:6])
		s.Outside = true
		return momentOf(t, in[0], s, in[6])
	},
	"shoe-force": func(t *testing.T, in []string) any {
		s := shoeOf(t, in[2:8])
		s.Outside = in[0] == "outside"
		l, err := s.PressedTo(amount[unit.Ratio](t, in[8]), amount[unit.Pressure](t, in[9]), way(t, in[1]))
		return must(t, l, err).Force
	},
	"shoe-pair": func(t *testing.T, in []string) any {
		s, mu := shoeOf(t, in[1:7]), amount[unit.Ratio](t, in[7])
		lead, err := s.PressedTo(mu, amount[unit.Pressure](t, in[8]), Leading)
		must(t, lead, err)
		trail, err := s.PressedBy(mu, lead.Force, Trailing)
		must(t, trail, err)
		return times(float64(amount[unit.Ratio](t, in[0])), lead.Torque+trail.Torque)
	},
	"shoe-pressure":    func(t *testing.T, in []string) any { return loadOf(t, in, false).Greatest },
	"shoe-torque":      func(t *testing.T, in []string) any { return loadOf(t, in, false).Torque },
	"outside-pressure": func(t *testing.T, in []string) any { return loadOf(t, in, true).Greatest },
	"outside-torque":   func(t *testing.T, in []string) any { return loadOf(t, in, true).Torque },
	"shoe-factor": func(t *testing.T, in []string) any {
		// Any width: it drops out.
		s := shoeOf(t, slices.Insert(slices.Clone(in[1:6]), 1, "40mm"))
		q, err := s.ShoeFactor(amount[unit.Ratio](t, in[6]), way(t, in[0]))
		return must(t, q, err)
	},
	"floating": func(t *testing.T, in []string) any {
		s := TypicalShoes(1)
		s.First = amount[unit.Angle](t, in[3])
		s.Second = s.First
		build := map[string]Build{"leading-trailing": LeadingTrailing, "duo-servo": DuoServo}[in[1]]
		f, err := s.Factor(build, amount[unit.Ratio](t, in[2]), false)
		must(t, f, err)
		rho, err := FrictionRadius(1, s.First)
		must(t, rho, err)
		q := map[string]unit.Ratio{"first": f.First, "second": f.Second, "both": f.Factor}[in[0]]
		return float64(q) / float64(rho)
	},
	"second-share": func(t *testing.T, in []string) any {
		return factorOf(t, "duo-servo", amount[unit.Ratio](t, in[0])).SecondShare()
	},
	"disc-factor": func(t *testing.T, in []string) any {
		return factorOf(t, "disc", amount[unit.Ratio](t, in[0])).Factor
	},
	"cost": func(t *testing.T, in []string) any {
		before, after := factorOf(t, in[0], amount[unit.Ratio](t, in[1])), factorOf(t, in[0], amount[unit.Ratio](t, in[2]))
		return 1 - unit.Per(after.Factor, before.Factor)
	},
	"yaw": func(t *testing.T, in []string) any {
		q, err := YawMoment(amount[unit.Force](t, in[0]), amount[unit.Force](t, in[1]), lengthAt(t, in, 2))
		return must(t, q, err)
	},
	"tug": func(t *testing.T, in []string) any {
		q, err := SteeringTug(amount[unit.Force](t, in[0]), amount[unit.Force](t, in[1]), lengthAt(t, in, 2), amount[unit.Angle](t, in[3]))
		return must(t, q, err)
	},
	"stud": func(t *testing.T, in []string) any {
		q, err := StudForce(amount[unit.Torque](t, in[0]), lengthAt(t, in, 1))
		return must(t, q, err)
	},
	"drag-heat": func(t *testing.T, in []string) any {
		q, err := DragHeat(amount[unit.Torque](t, in[0]), amount[unit.Speed](t, in[1]), lengthAt(t, in, 2))
		return must(t, q, err)
	},
	"code-over": func(t *testing.T, in []string) any { return bandOf(t, in[0]).Over },
	"code-to":   func(t *testing.T, in []string) any { return bandOf(t, in[0]).To },
	// Of the lower, as it was worked.
	"code-middle": func(t *testing.T, in []string) any {
		s := SpreadOfCodes(bandOf(t, in[0]), bandOf(t, in[1]), discFactor)
		return s.Middle / (1 - s.Middle)
	},
}

func TestTorqueRefuses(t *testing.T) {
	pad := Pad{0.1, 0.15, 1}
	shoe := PivotedShoe{Drum: 0.15, Width: 0.04, Pivot: 0.125, To: 120 * unit.Degree, Arm: 0.2}
	block := Block{Drum: 0.2, Arm: 0.5, Normal: 0.2, Offset: 0.05}
	floating := TypicalShoes(0.15)
	change := func(f func(p *Pad, s *PivotedShoe, b *Block, d *FloatingShoes)) (Pad, PivotedShoe, Block, FloatingShoes) {
		p, s, b, d := pad, shoe, block, floating
		f(&p, &s, &b, &d)
		return p, s, b, d
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1} {
		l, ang := unit.Length(x), unit.Angle(x)
		for _, p := range []Pad{{l, 0.15, 1}, {0.1, l, 1}, {0.1, 0.15, ang}} {
			_, err := UniformWear(p)
			refused(t, "pad, wear", err)
			_, err = UniformPressure(p)
			refused(t, "pad, pressure", err)
		}
		_, err := RoundPad(l, 0.1)
		refused(t, "round pad", err)
		_, err = RoundPad(0.02, l)
		refused(t, "round pad's distance", err)
		_, err = DiscTorque(unit.Ratio(x), 1, 1)
		refused(t, "friction", err)
		_, err = DiscTorque(0.3, unit.Force(x), 1)
		refused(t, "clamp", err)
		_, err = DiscTorque(0.3, 1, l)
		refused(t, "radius", err)
		_, err = DiscGain(0.3, unit.Area(x), 1)
		refused(t, "pistons", err)
		_, err = DiscGain(unit.Ratio(x), 1, 1)
		refused(t, "gain's friction", err)
		_, err = DiscFactor(unit.Ratio(x))
		refused(t, "disc factor", err)
		for i, f := range []func(p *Pad, s *PivotedShoe, b *Block, d *FloatingShoes){
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.Drum, b.Drum, d.Drum = l, l, l },
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.Width, b.Arm, d.Cylinder = l, l, l },
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.Pivot, b.Normal, d.Abutment = l, l, l },
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.Arm, b.Offset, d.Anchor = l, l, l },
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.From, b.Offset, d.First = ang, l, ang },
			func(_ *Pad, s *PivotedShoe, b *Block, d *FloatingShoes) { s.To, b.Offset, d.Second = ang, l, ang },
		} {
			_, s, b, d := change(f)
			_, err = s.Moments(0.3)
			refused(t, "shoe", err)
			_, err = s.PressedBy(0.3, 1, Trailing)
			refused(t, "shoe by force", err)
			_, err = s.ShoeFactor(0.3, Leading)
			refused(t, "shoe factor", err)
			_, err = s.Factor(0.3)
			refused(t, "factor of both", err)
			_, err = s.LocksAt(Leading)
			refused(t, "shoe locking", err)
			_, _, err = b.PressedBy(0.3, 1, Leading)
			refused(t, "block", err)
			_, err = d.Factor(DuoServo, 0.3, false)
			refused(t, "duo-servo", err)
			if _, err = d.Factor(LeadingTrailing, 0.3, false); (err == nil) != (i == 3) {
				t.Errorf("leading-trailing without its anchor, change %d: %v", i, err)
			}
		}
		_, err = shoe.Moments(unit.Ratio(x))
		refused(t, "shoe friction", err)
		_, err = shoe.PressedTo(0.3, unit.Pressure(x), Leading)
		refused(t, "greatest pressure", err)
		_, err = shoe.PressedBy(0.3, unit.Force(x), Leading)
		refused(t, "force", err)
		_, _, err = block.PressedBy(unit.Ratio(x), 1, Leading)
		refused(t, "block friction", err)
		_, _, err = block.PressedBy(0.3, unit.Force(x), Leading)
		refused(t, "block force", err)
		_, err = floating.Factor(DuoServo, unit.Ratio(x), false)
		refused(t, "floating friction", err)
		_, err = FrictionRadius(l, 1)
		refused(t, "friction radius", err)
		_, err = FrictionRadius(1, ang)
		refused(t, "lining", err)
		_, err = EvenPivot(l, 1)
		refused(t, "even pivot", err)
		_, err = EvenPivot(1, ang)
		refused(t, "even pivot's lining", err)
		_, err = BlockFriction(unit.Ratio(x), 1)
		refused(t, "block friction", err)
		_, err = BlockFriction(0.3, ang)
		refused(t, "block contact", err)
		_, err = YawMoment(unit.Force(x), 1, 1)
		refused(t, "yaw left", err)
		_, err = YawMoment(1, unit.Force(x), 1)
		refused(t, "yaw right", err)
		_, err = YawMoment(1, 1, l)
		refused(t, "track", err)
		_, err = SideForce(1, l)
		refused(t, "wheelbase", err)
		_, err = SteeringTug(unit.Force(x), 1, 0.01, 0)
		refused(t, "tug left", err)
		_, err = SteeringTug(1, unit.Force(x), 0.01, 0)
		refused(t, "tug right", err)
		_, err = SteeringTug(1, 1, l, 0)
		refused(t, "scrub", err)
		_, err = SteeringTug(1, 1, 0.01, ang)
		refused(t, "lean", err)
		_, err = StudForce(unit.Torque(x), 1)
		refused(t, "stud drag", err)
		_, err = StudForce(1, l)
		refused(t, "bolt circle", err)
		_, err = StudTorque(unit.Force(x), 1)
		refused(t, "stud force", err)
		_, err = StudTorque(1, l)
		refused(t, "bolt circle", err)
		_, err = DragHeat(unit.Torque(x), 1, 1)
		refused(t, "drag", err)
		_, err = DragHeat(1, unit.Speed(x), 1)
		refused(t, "speed", err)
		_, err = DragHeat(1, 1, l)
		refused(t, "tyre", err)
		_, err = LetterOf(unit.Ratio(x))
		refused(t, "letter", err)
	}
	_, err := SideForce(unit.Torque(math.NaN()), 1)
	refused(t, "moment", err)
	_, err = UniformWear(Pad{0.15, 0.15, 1})
	refused(t, "no pad at all", err)
	_, err = UniformWear(Pad{0.1, 0.15, 6.3})
	refused(t, "more than a turn", err)
	_, err = RoundPad(0.0501, 0.1)
	refused(t, "past the table", err)
	_, err = DiscFactor(1.01)
	refused(t, "friction above 1", err)
	_, err = DiscFactor(0)
	refused(t, "no friction", err)
	_, err = FrictionRadius(1, 181*unit.Degree)
	refused(t, "too long a lining", err)
	_, err = floating.Factor(DuoServo+1, 0.3, false)
	refused(t, "no such build", err)
	_, err = SteeringTug(1, 1, 0.01, 45*unit.Degree)
	refused(t, "too much lean", err)
	for what, f := range map[string]func(p *Pad, s *PivotedShoe, b *Block, d *FloatingShoes){
		"pivot at the face":   func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.Pivot = s.Drum },
		"pivot inside":        func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.Outside = true },
		"ends as it begins":   func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.From = s.To },
		"past half a turn":    func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.To = 181 * unit.Degree },
		"no arm":              func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.Arm = 0 },
		"begins below nought": func(_ *Pad, s *PivotedShoe, _ *Block, _ *FloatingShoes) { s.From = -1e-9 },
	} {
		_, s, _, _ := change(f)
		_, err := s.Moments(0.3)
		refused(t, what, err)
	}
	for what, f := range map[string]func(p *Pad, s *PivotedShoe, b *Block, d *FloatingShoes){
		"cylinder at the face": func(_ *Pad, _ *PivotedShoe, _ *Block, d *FloatingShoes) { d.Cylinder = d.Drum },
		"block at the face":    func(_ *Pad, _ *PivotedShoe, _ *Block, d *FloatingShoes) { d.Abutment = d.Drum },
		"anchor at the face":   func(_ *Pad, _ *PivotedShoe, _ *Block, d *FloatingShoes) { d.Anchor = d.Drum },
	} {
		_, _, _, d := change(f)
		_, err := d.Factor(DuoServo, 0.3, false)
		refused(t, what, err)
	}
}

// Where shoes lock by themselves, and what is refused there.
func TestLocking(t *testing.T) {
	// Mf = 2.9925e-4 and MN = 9.4778e-4 of problem 16-1 with friction 0.28.
	const source = "solution of problem 16-1 of Shigley's Mechanical Engineering Design, 10th edition: 0.28 x 9.478/2.993"
	shoe := PivotedShoe{Drum: 0.15, Width: 0.04, Pivot: 0.125, To: 120 * unit.Degree, Arm: 0.2165}
	at, err := shoe.LocksAt(Leading)
	near(t, "locks at", float64(must(t, at, err)), "0.887", source)
	if _, err := shoe.PressedTo(at*0.999, 1e6, Leading); err != nil {
		t.Errorf("just below: %v", err)
	}
	_, err = shoe.PressedTo(at*1.001, 1e6, Leading)
	refused(t, "just above", err)
	_, err = shoe.PressedBy(at*1.001, 100, Leading)
	refused(t, "by force", err)
	_, err = shoe.ShoeFactor(at*1.001, Leading)
	refused(t, "its factor", err)
	_, err = shoe.Factor(at * 1.001)
	refused(t, "that of both", err)
	if pair, err := shoe.Factor(0.28); err != nil || pair.LocksAt != at {
		t.Errorf("both: %+v, %v", pair, err)
	}
	if off, err := shoe.LocksAt(Trailing); err != nil || !math.IsInf(float64(off), 1) {
		t.Errorf("a trailing shoe locks at %v, %v", off, err)
	}
	// A block locks where μ c = b.
	b := Block{Drum: 0.2, Arm: 0.5, Normal: 0.1, Offset: 0.2}
	if _, _, err := b.PressedBy(0.4999, 10, Leading); err != nil {
		t.Error(err)
	}
	_, _, err = b.PressedBy(0.5, 10, Leading)
	refused(t, "a block", err)
	if _, _, err := b.PressedBy(0.5, 10, Trailing); err != nil {
		t.Error(err)
	}
	// Floating shoes at c/ρ, and refused from nine tenths of it.
	s := TypicalShoes(0.15)
	for _, b := range []Build{LeadingTrailing, TwinLeading, DuoServo} {
		f, err := s.Factor(b, 0.2, false)
		near(t, b.String()+" locks at", float64(must(t, f, err).LocksAt), "0.69817", notes+"0.8/1.145846")
		if _, err := s.Factor(b, f.LocksAt*0.8999, false); err != nil {
			t.Error(err)
		}
		_, err = s.Factor(b, f.LocksAt*0.9, false)
		refused(t, b.String(), err)
	}
	if f, err := s.Factor(TwinLeading, 0.9, true); err != nil || !math.IsInf(float64(f.LocksAt), 1) {
		t.Errorf("two trailing shoes lock at %v, %v", f.LocksAt, err)
	}
	// The anchor counts where it is nearer than the link, and only for the shoe on it.
	s.Anchor = 0.06
	f, err := s.Factor(DuoServo, 0.2, false)
	near(t, "anchor", float64(must(t, f, err).LocksAt), "0.34909", notes+"0.4/1.145846")
	f, err = s.Factor(LeadingTrailing, 0.2, false)
	near(t, "no anchor", float64(must(t, f, err).LocksAt), "0.69817", notes+"0.8/1.145846")
	// The longer lining locks first where it leads.
	s = TypicalShoes(0.15)
	s.Second = 130 * unit.Degree
	f, err = s.Factor(LeadingTrailing, 0.2, false)
	near(t, "the shorter one leads", float64(must(t, f, err).LocksAt), "0.69817", notes+"0.8/1.145846")
	f, err = s.Factor(LeadingTrailing, 0.2, true)
	near(t, "the longer one leads", float64(must(t, f, err).LocksAt), "0.66974", notes+"0.8 (2.26893 + sin 130°)/(4 sin 65°)")
	f, err = s.Factor(TwinLeading, 0.2, false)
	near(t, "both lead", float64(must(t, f, err).LocksAt), "0.66974", notes+"0.8 (2.26893 + sin 130°)/(4 sin 65°)")
}

func TestHardest(t *testing.T) {
	for _, tt := range []struct{ from, to, want float64 }{{0, 120, 90}, {15, 75, 75}, {100, 150, 100}, {30, 90, 90}} {
		if got := (PivotedShoe{From: deg(tt.from), To: deg(tt.to)}).Hardest(); math.Abs(got.Degrees()-tt.want) > 1e-12 {
			t.Errorf("from %g to %g: %v", tt.from, tt.to, got)
		}
	}
}

func TestBrakeFactor(t *testing.T) {
	// Torque = factor x force x radius; the handbook's figures lie below the
	// model and far from it for the duo-servo.
	for _, tt := range []struct {
		build string
		f     Figure[unit.Ratio]
		most  float64 // by how many times the model overstates
	}{{"leading-trailing", FactorLeadingTrailing, 1.3}, {"twin-leading", FactorTwinLeading, 1.35}, {"duo-servo", FactorDuoServo, 1.8}} {
		k := float64(factorOf(t, tt.build, 0.38).Factor / tt.f.Value)
		if k < 1.1 || k > tt.most {
			t.Errorf("%s: the model gives %.2f times what the handbook gives", tt.build, k)
		}
	}
	f := factorOf(t, "duo-servo", 0.35)
	if got := f.Torque(1000, 0.15); math.Abs(float64(got)-float64(f.Factor)*150) > 1e-9 {
		t.Errorf("torque %v", got)
	}
	if got := Build(7).String(); got != "Build(7)" {
		t.Error(got)
	}
}

func TestEdgeCodes(t *testing.T) {
	const source = "SAE J866, 2019, in a summary: letters, marks and their example B16"
	for _, tt := range []struct {
		text, letters, copper string
		year                  int
	}{
		{"FF", "FF", "", 0}, {"ff b16", "FF", "more than 0.5 and up to 5 % copper", 2016}, {"EE B16", "EE", "more than 0.5 and up to 5 % copper", 2016},
		{"FE-N21", "FE", "0.5 % copper or less", 2021}, {"  1234-ABC GG A14 ", "GG", "no limit on copper", 2014}, {"FFB16", "FF", "more than 0.5 and up to 5 % copper", 2016},
		{"XY/77_CD", "CD", "", 0}, {"HZ", "HZ", "", 0}, {"AB12 FF", "FF", "", 0},
	} {
		e, err := ParseEdgeCode(tt.text)
		if err != nil || string([]byte{e.Normal.Letter, e.Hot.Letter}) != tt.letters || e.Copper() != tt.copper || e.Year != tt.year {
			t.Errorf("%q: %+v, %v\nsource: %s", tt.text, e, err, source)
		}
	}
	for _, bad := range []string{"", " - ", "F", "FFF", "AF", "FA", "B16", "II B16", "FF B1", "FF B16 X", "FF X16", "FF B166", "F F", "FFX16", "0F"} {
		_, err := ParseEdgeCode(bad)
		refused(t, bad, err)
	}
	for _, tt := range []struct {
		friction float64
		want     string
	}{{0, "C"}, {0.15, "C"}, {0.151, "D"}, {0.35, "E"}, {0.351, "F"}, {0.45, "F"}, {0.55, "G"}, {0.56, "H"}, {0.05 * 7, "E"}} {
		b, err := LetterOf(unit.Ratio(tt.friction))
		if err != nil || string(b.Letter) != tt.want {
			t.Errorf("%g is %c, %v, want %s\nsource: %s", tt.friction, b.Letter, err, tt.want, source)
		}
	}
}

func TestSpreadOfCodes(t *testing.T) {
	const source = notes + "ends and middles of the bands of SAE J866"
	drum := func(build Build) func(unit.Ratio) (unit.Ratio, error) {
		return func(mu unit.Ratio) (unit.Ratio, error) {
			f, err := TypicalShoes(1).Factor(build, mu, false)
			return f.Factor, err
		}
	}
	for _, tt := range []struct {
		name, left, right string
		factor            func(unit.Ratio) (unit.Ratio, error)
		low, middle, high string // "-" is unknown
		stronger          int
	}{
		{"one letter", "F", "F", discFactor, "0.0000", "0.0000", "0.2222", 0},         // 1 - 35/45
		{"next letters", "F", "G", discFactor, "0.0000", "0.2000", "0.3636", -1},      // 1 - 40/50, 1 - 35/55
		{"a letter between", "G", "E", discFactor, "0.2222", "0.4000", "0.5455", 1},   // 1 - 35/45, 1 - 30/50, 1 - 25/55
		{"down to nothing", "C", "D", discFactor, "0.0000", "0.6250", "1.0000", -1},   // 1 - 0.075/0.2
		{"no upper end", "H", "F", discFactor, "0.1818", "-", "-", 1},                 // 1 - 45/55
		{"unclassified", "Z", "F", discFactor, "-", "-", "-", 0},                      //
		{"a drum", "E", "F", drum(LeadingTrailing), "0.0000", "0.3821", "0.6275", -1}, // 1 - 1.4716/2.3815
		{"a duo-servo", "E", "F", drum(DuoServo), "0.0000", "0.5794", "0.8296", -1},   // 1 - 3.6888/8.7692
		{"a drum, farther", "E", "G", drum(LeadingTrailing), "0.3927", "0.6415", "0.8022", -1},
	} {
		s := SpreadOfCodes(bandOf(t, tt.left), bandOf(t, tt.right), tt.factor)
		for _, x := range []struct {
			what string
			got  unit.Ratio
			want string
		}{{"low", s.Low, tt.low}, {"middle", s.Middle, tt.middle}, {"high", s.High, tt.high}} {
			if x.want == "-" {
				if !math.IsNaN(float64(x.got)) {
					t.Errorf("%s: %s is %g, want unknown", tt.name, x.what, float64(x.got))
				}
				continue
			}
			near(t, tt.name+", "+x.what, float64(x.got), x.want, source)
		}
		if s.Stronger != tt.stronger {
			t.Errorf("%s: stronger %d, want %d", tt.name, s.Stronger, tt.stronger)
		}
	}
	// Where the model is refused, the share is unknown.
	if s := SpreadOfCodes(bandOf(t, "F"), bandOf(t, "G"), func(unit.Ratio) (unit.Ratio, error) { return 0, &OutOfRange{} }); !math.IsNaN(float64(s.High)) || s.Low != 0 {
		t.Errorf("refused: %+v", s)
	}
}

func TestSteeringTug(t *testing.T) {
	const source = notes + "(FL - FR) s cos lean; signs by the definition of the scrub radius"
	for _, tt := range []struct {
		left, right, scrub, lean float64
		want                     string
	}{
		{2600, 2000, 0.030, 0, "18.00"}, {2000, 2600, 0.030, 0, "-18.00"}, {2600, 2000, -0.030, 0, "-18.00"},
		{2600, 2000, 0, 0, "0.00"}, {2600, 2000, 0.030, 12, "17.61"}, {2000, 2000, 0.1, 0, "0.00"},
	} {
		q, err := SteeringTug(unit.Force(tt.left), unit.Force(tt.right), unit.Length(tt.scrub), deg(tt.lean))
		near(t, "tug", float64(must(t, q, err)), tt.want, source)
	}
	y, err := YawMoment(2000, 2600, 1.6)
	near(t, "yaw to the right", float64(must(t, y, err)), "-480.0", notes+"600 N at 0.8 m")
	f, err := SideForce(y, 3)
	near(t, "side force", float64(must(t, f, err)), "160.0", notes+"480/3")
}

func TestDrag(t *testing.T) {
	q, err := StudTorque(68, 0.1143)
	near(t, "68 N on a circle of 4.5 in", float64(must(t, q, err)), "3.8862", notes+"68 x 0.05715")
	f, err := StudForce(q, 0.1143)
	near(t, "and back", float64(must(t, f, err)), "68.0000", notes+"the same")
	near(t, "68 N", DragAtStud.Value.PoundsForce(), "15.3", "makers' service information: 15.0 to 15.4 lbf")
	near(t, "at once", float64(DragAtOnce.Value), "9.8", "makers' service information, a medium truck")
	near(t, "turned", float64(DragTurned.Value), "6.9", "makers' service information, a medium truck")
}

func TestTorqueProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		same := func(what string, a, b float64) {
			rt.Helper()
			if !(math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b), 1e-12)) {
				rt.Fatalf("%s: %g, want %g", what, a, b)
			}
		}
		draw := func(what string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, what) }
		scale := draw("scale", 0.1, 10)
		mu := unit.Ratio(draw("friction", 0.05, 0.5))
		const tiny = 1e-7

		// Disc: radii between the edges; new pads work farther out than run-in
		// ones; a thin pad is its own radius; larger by k, radii by k.
		pad := Pad{Inner: unit.Length(draw("inner", 0.05, 0.2)), Angle: deg(draw("pad angle", 1, 359))}
		pad.Outer = pad.Inner + unit.Length(draw("across", 1e-6, 0.1))
		wear, err := UniformWear(pad)
		if err != nil {
			rt.Fatal(err)
		}
		fresh, _ := UniformPressure(pad)
		if !(wear.Radius > pad.Inner && fresh.Radius >= wear.Radius && fresh.Radius < pad.Outer) {
			rt.Fatalf("radii %v and %v of %+v", wear.Radius, fresh.Radius, pad)
		}
		if wear.ForceLine >= wear.Radius || wear.Carrying > fresh.Carrying {
			rt.Fatalf("%+v", wear)
		}
		thin := Pad{pad.Inner, pad.Inner * (1 + tiny), deg(0.001)}
		for _, contact := range []func(Pad) (Contact, error){UniformWear, UniformPressure} {
			c, _ := contact(thin)
			if r := float64(unit.Per(c.Radius, pad.Inner)) - 1; math.Abs(r) > tiny {
				rt.Fatalf("a thin pad works at %g of its radius more", r)
			}
			if r := float64(unit.Per(c.ForceLine, pad.Inner)) - 1; math.Abs(r) > 2*tiny {
				rt.Fatalf("a narrow pad is pressed at %g of its radius more", r)
			}
		}
		large, _ := UniformWear(Pad{times(scale, pad.Inner), times(scale, pad.Outer), pad.Angle})
		same("a larger pad", float64(large.Radius), scale*float64(wear.Radius))
		same("its area", float64(large.Carrying), scale*scale*float64(wear.Carrying))
		clamp := unit.Force(draw("clamp", 1, 2e4))
		torque, _ := DiscTorque(mu, clamp, wear.Radius)
		// Bounded by all of the friction at the rim.
		if most := 2 * float64(mu) * float64(clamp) * float64(pad.Outer); float64(torque) >= most {
			rt.Fatalf("%v with no more than %g at the rim", torque, most)
		}
		disc, _ := DiscFactor(mu)
		same("factor of a disc", float64(disc.Torque(clamp, wear.Radius)), float64(torque))
		area := unit.Area(draw("pistons", 1e-4, 1e-2))
		gain, _ := DiscGain(mu, area, wear.Radius)
		p := unit.Pressure(draw("pressure", 1e5, 1e7))
		direct, _ := DiscTorque(mu, p.On(area), wear.Radius)
		same("gain", float64(gain)*float64(p), float64(direct))

		// Pivoted shoe: closed form against moments; torque grows with force;
		// leading presses harder; without friction both press alike.
		s := PivotedShoe{Drum: unit.Length(draw("drum", 0.08, 0.3)), Width: 0.04, Arm: unit.Length(draw("arm", 0.02, 0.4)),
			From: deg(draw("from", 0, 80)), Outside: rapid.Bool().Draw(rt, "outside")}
		s.To = s.From + deg(draw("span", 5, 100))
		k := draw("pivot", 0.3, 0.95)
		if s.Outside {
			k = 1 / k
		}
		s.Pivot = times(k, s.Drum)
		force := unit.Force(draw("force", 1, 1e4))
		for _, way := range []Turning{Leading, Trailing} {
			l, err := s.PressedBy(mu, force, way)
			if err != nil {
				continue
			}
			closed, err := s.ShoeFactor(mu, way)
			if err != nil {
				rt.Fatal(err)
			}
			same("closed form", float64(closed), float64(l.Factor))
			same("factor", float64(l.Factor)*float64(force.At(s.Drum)), float64(l.Torque))
			twice, _ := s.PressedBy(mu, times(scale, force), way)
			same("in proportion", float64(twice.Torque), scale*float64(l.Torque))
			back, _ := s.PressedTo(mu, l.Greatest, way)
			same("and back", float64(back.Force), float64(force))
			wide := s
			wide.Width = times(scale, s.Width)
			w, _ := wide.PressedBy(mu, force, way)
			same("width", float64(w.Torque), float64(l.Torque))
			same("pressure by width", float64(w.Greatest)*scale, float64(l.Greatest))
		}
		lead, err1 := s.PressedBy(tiny, force, Leading)
		trail, err2 := s.PressedBy(tiny, force, Trailing)
		if err1 != nil || err2 != nil || math.Abs(float64(lead.Torque/trail.Torque)-1) > 1e-4 {
			rt.Fatalf("without friction: %+v and %+v", lead, trail)
		}
		if pair, err := s.Factor(mu); err == nil {
			const h = 1e-6
			up, errUp := s.Factor(mu + h)
			down, errDown := s.Factor(mu - h)
			slope := float64(up.Factor-down.Factor) / (2 * h)
			if errUp == nil && errDown == nil && pair.LocksAt > 1.01*mu && math.Abs(slope-float64(pair.Slope)) > 1e-5*math.Abs(slope) {
				rt.Fatalf("pivoted: slope %g, by small steps %g", float64(pair.Slope), slope)
			}
			same("both shoes", float64(pair.First+pair.Second), float64(pair.Factor))
		}
		m, _ := s.Moments(mu)
		at, _ := s.LocksAt(Leading)
		if m.Friction > 0 {
			same("locks where both moments meet", float64(m.Friction)/float64(mu)*float64(at), float64(m.Normal))
		}

		// Floating shoes.
		d := FloatingShoes{Drum: s.Drum, First: deg(draw("first", 40, 140)), Second: deg(draw("second", 40, 140))}
		d.Cylinder, d.Abutment, d.Anchor = times(draw("h", 0.5, 0.95), d.Drum), times(draw("c", 0.5, 0.95), d.Drum), times(draw("k", 0.5, 0.95), d.Drum)
		mirrored := d
		mirrored.First, mirrored.Second = d.Second, d.First
		for _, build := range []Build{LeadingTrailing, TwinLeading, DuoServo} {
			for _, reverse := range []bool{false, true} {
				f, err := d.Factor(build, mu, reverse)
				if err != nil {
					continue
				}
				m, err := mirrored.Factor(build, mu, !reverse)
				if build != TwinLeading && (err != nil || m != f) {
					rt.Fatalf("%v mirrored in reverse: %+v and %+v, %v", build, f, m, err)
				}
				same("parts", float64(f.First+f.Second), float64(f.Factor))
				const h = 1e-6
				up, err := d.Factor(build, mu+h, reverse)
				if err != nil {
					continue
				}
				down, _ := d.Factor(build, mu-h, reverse)
				if slope := float64(up.Factor-down.Factor) / (2 * h); math.Abs(slope-float64(f.Slope)) > 1e-5*math.Abs(slope) {
					rt.Fatalf("%v: slope %g, by small steps %g", build, float64(f.Slope), slope)
				}
				if f.Slope <= 0 || up.Factor <= f.Factor {
					rt.Fatalf("%v: more friction, less torque: %+v", build, f)
				}
				none, _ := d.Factor(build, tiny, reverse)
				// Without friction each shoe is a lever, and the link of a duo-servo hands on
				// what the first one does not take.
				lever := (float64(d.Cylinder) + float64(d.Abutment)) / float64(d.Abutment)
				rho1, rho2 := d.radii()
				if want := tiny * lever * (rho1 + rho2) / float64(d.Drum); math.Abs(float64(none.Factor)/want-1) > 1e-4 {
					rt.Fatalf("%v without friction: %g, want %g", build, float64(none.Factor), want)
				}
				bigger := d
				for _, l := range []*unit.Length{&bigger.Drum, &bigger.Cylinder, &bigger.Abutment, &bigger.Anchor} {
					*l = times(scale, *l)
				}
				b, _ := bigger.Factor(build, mu, reverse)
				same("of no size", float64(b.Factor), float64(f.Factor))
			}
			lt, errLT := d.Factor(LeadingTrailing, mu, false)
			twin, errTwin := d.Factor(TwinLeading, mu, false)
			if errLT == nil && errTwin == nil && !(twin.Factor > lt.Factor && lt.First == twin.First) {
				rt.Fatalf("two leading shoes %+v, one %+v", twin, lt)
			}
		}

		// Sides: exchanged, the other way round.
		l, r := unit.Force(draw("left", 0, 5000)), unit.Force(draw("right", 0, 5000))
		track, scrub, lean := unit.Length(draw("track", 1, 2)), unit.Length(draw("scrub", -0.1, 0.1)), deg(draw("lean", 0, 20))
		y, _ := YawMoment(l, r, track)
		back, _ := YawMoment(r, l, track)
		same("yaw", float64(y), -float64(back))
		if (l > r) != (y > 0) {
			rt.Fatal("it turns to the weaker side")
		}
		g, _ := SteeringTug(l, r, scrub, lean)
		other, _ := SteeringTug(l, r, -scrub, lean)
		same("scrub", float64(g), -float64(other))
		exchanged, _ := SteeringTug(r, l, scrub, lean)
		same("tug", float64(g), -float64(exchanged))
		// Heat of a drag is force times way.
		speed, tyre, drag := unit.Speed(draw("speed", 0, 60)), unit.Length(draw("tyre", 0.2, 0.5)), unit.Torque(draw("drag", 0, 100))
		heat, _ := DragHeat(drag, speed, tyre)
		same("heat", float64(heat.For(10)), float64(drag.Over(tyre).Along(speed.For(10))))
	})
}

// Whatever is typed is read or refused.
func TestEdgeCodeProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[A-J0-9 -]{0,10}`)).Draw(rt, "text")
		if e, err := ParseEdgeCode(text); err == nil && (e.Normal.Letter == 0 || e.Hot.Letter == 0 || (e.Material == 0) != (e.Year == 0)) {
			rt.Fatalf("%q is %+v", text, e)
		}
		code := rapid.StringMatching(`[C-HZ]{2} [ABN][0-9]{2}`).Draw(rt, "code")
		e, err := ParseEdgeCode(code)
		if err != nil || e.Normal.Letter != code[0] || e.Hot.Letter != code[1] || e.Material != code[3] {
			rt.Fatalf("%q is %+v, %v", code, e, err)
		}
		mu := unit.Ratio(rapid.Float64Range(0, 1).Draw(rt, "friction"))
		b, err := LetterOf(mu)
		if err != nil || !(mu > b.Over || mu == 0) || mu > b.To*(1+1e-9) {
			rt.Fatalf("%g is %+v, %v", float64(mu), b, err)
		}
	})
}

func BenchmarkDiscTorque(b *testing.B) {
	pad := Pad{0.1, 0.14, 1}
	for b.Loop() {
		c, _ := UniformWear(pad)
		if _, err := DiscTorque(0.38, 1e4, c.Radius); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRoundPad(b *testing.B) {
	for b.Loop() {
		if _, err := RoundPad(0.025, 0.12); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPivotedShoe(b *testing.B) {
	s := PivotedShoe{Drum: 0.15, Width: 0.04, Pivot: 0.125, To: 120 * unit.Degree, Arm: 0.2165}
	for b.Loop() {
		if _, err := s.PressedBy(0.28, 2200, Leading); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDuoServo(b *testing.B) {
	s := TypicalShoes(0.14)
	for b.Loop() {
		if _, err := s.Factor(DuoServo, 0.35, false); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYaw(b *testing.B) {
	for b.Loop() {
		if _, err := YawMoment(2600, 2000, 1.6); err != nil {
			b.Fatal(err)
		}
		if _, err := SteeringTug(2600, 2000, 0.03, 0.2); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEdgeCode(b *testing.B) {
	for b.Loop() {
		e, err := ParseEdgeCode("FF B16")
		if err != nil {
			b.Fatal(err)
		}
		SpreadOfCodes(e.Normal, e.Hot, discFactor)
	}
}

func BenchmarkDragHeat(b *testing.B) {
	for b.Loop() {
		if _, err := DragHeat(6.9, 27.8, 0.35); err != nil {
			b.Fatal(err)
		}
	}
}
