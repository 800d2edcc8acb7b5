package calc

import (
	"fmt"
	"math"

	"chock/brakes"
	"chock/brakes/unit"
)

// A boostKind is how much is known of a booster.
type boostKind int

const (
	noBooster boostKind = iota
	gainOnly            // by how much it multiplies, not how far
	withKnee            // the vacuum and what it works on too
)

// A booster is what stands between pedal and master cylinder.
type booster struct {
	brakes.Booster
	kind     boostKind
	vacuum   unit.Pressure // NaN unless the kind is withKnee
	widths   []unit.Length // of its diaphragms
	warnings []string
	sources  []string
}

// The inputs of a booster beside its gain.
var (
	boosterDiaphragm = Input{Name: "booster-diaphragm", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Vehicle: "booster-diaphragm",
		Say: "width of the working part of the vacuum can; of two behind each other, both"}
	boosterVacuum = Input{Name: "vacuum", Kind: unit.KindPressure, Optional: true, Say: "vacuum at the booster, as 18 inHg"}
)

// booster takes what is known of it.
func (in inputs) booster() (b booster, err error) {
	b.vacuum = unit.Pressure(math.NaN())
	gain, haveGain := valueOf[unit.Ratio](in, "booster-gain")
	if haveGain {
		if _, err := brakes.Boosted(1, gain); err != nil {
			return b, blame("booster-gain", err)
		}
		b.Gain = gain
	}
	for _, a := range in["booster-diaphragm"] {
		if a.Missing() {
			return b, &InputError{"booster-diaphragm", fmt.Errorf("want a width")}
		}
		b.widths = append(b.widths, unit.As[unit.Length](a).Value)
	}
	if b.widths != nil {
		if b.Diaphragm, err = brakes.Diaphragms(b.widths); err != nil {
			return b, blame("booster-diaphragm", err)
		}
	}
	vacuum, haveVacuum := valueOf[unit.Pressure](in, "vacuum")
	if haveVacuum {
		if _, err := brakes.VacuumAt(vacuum, 0); err != nil {
			return b, blame("vacuum", err)
		}
	}
	for name, to := range map[string]*unit.Force{"cut-in": &b.CutIn, "jump-in": &b.JumpIn} {
		f, ok := valueOf[unit.Force](in, name)
		switch {
		case !ok:
		case !(f >= 0) || math.IsInf(float64(f), 0):
			return b, &InputError{name, fmt.Errorf("%v: want 0 or more", f)}
		case b.widths == nil || !haveGain:
			return b, &InputError{name, fmt.Errorf("of which booster? give --booster-gain and --booster-diaphragm")}
		default:
			*to = f
		}
	}
	if _, high := in.length("altitude"); high && (!haveGain || b.widths == nil) {
		return b, &InputError{"altitude", fmt.Errorf("it takes off from a vacuum: give --booster-gain and --booster-diaphragm")}
	}
	switch {
	case !haveGain && haveVacuum:
		return b, &InputError{"vacuum", fmt.Errorf("by how much does the booster multiply? give --booster-gain")}
	case !haveGain && b.widths != nil:
		b.warnings = append(b.warnings, "The diaphragm alone does not say by how much the booster multiplies: not counted. Give --booster-gain.")
		return b, nil
	case !haveGain || gain == 1:
		return b, nil
	case b.widths == nil && haveVacuum && vacuum == 0:
		return b, nil // nothing works, whatever its size
	case b.widths == nil && haveVacuum:
		return b, &InputError{"vacuum", fmt.Errorf("on what does it work? give --booster-diaphragm")}
	case b.widths == nil:
		b.kind = gainOnly
		return b, nil
	}
	b.kind, b.vacuum = withKnee, vacuum
	if !haveVacuum {
		f := brakes.BoosterVacuum
		b.vacuum = f.Value
		b.warnings = append(b.warnings, fmt.Sprintf("No vacuum given: %s is taken, usual at idle. Read it at the booster's hose.", inHg(f.Value)))
		b.sources = append(b.sources, sourceOf("vacuum", string(f.Mark), f.Source))
	}
	if err := b.climb(in); err != nil {
		return b, err
	}
	b.sources = append(b.sources, "booster: Limpert, Brake Design and Safety, chapter 5 (from memory); its knee: QC/T 307-1999 as a booster maker's page quotes it")
	return b, nil
}

// climb takes off what a height takes from the vacuum.
func (b *booster) climb(in inputs) error {
	h, ok := in.length("altitude")
	if !ok {
		return nil
	}
	low := b.vacuum
	var err error
	if b.vacuum, err = brakes.VacuumAt(low, h); err != nil {
		return blame("altitude", err)
	}
	b.warnings = append(b.warnings, fmt.Sprintf("At that height %s of vacuum becomes %s: the engine pulls as low, but less air pushes.", inHg(low), inHg(b.vacuum)))
	b.sources = append(b.sources, "vacuum at a height: International Standard Atmosphere (ICAO, 1964); US Army Ordnance subcourse OD1001, lesson 3")
	return nil
}

// inHg shows a vacuum as its gauge does.
func inHg(p unit.Pressure) string {
	return unit.Format(unit.KindPressure, float64(p), "inHg") + " (" + unit.Format(unit.KindPressure, float64(p), "kPa") + ")"
}

// out is the force on the master cylinder with a vacuum; of a booster whose
// gain alone is known the vacuum does not count.
func (b booster) out(rod unit.Force, vacuum unit.Pressure) (unit.Force, error) {
	switch b.kind {
	case withKnee:
		return b.Booster.Out(rod, vacuum)
	case gainOnly:
		return brakes.Boosted(rod, b.Gain)
	}
	return rod, nil
}

// needed is the rod force for a force on the master cylinder.
func (b booster) needed(out unit.Force, vacuum unit.Pressure) (unit.Force, error) {
	switch b.kind {
	case withKnee:
		return b.Booster.Needed(out, vacuum)
	case gainOnly:
		return unit.Force(float64(out) / float64(b.Gain)), nil
	}
	return out, nil
}

// boost goes through the booster, and says where its knee is.
func (c *chain) boost(rod unit.Force) error {
	var err error
	if c.rod, err = c.booster.out(rod, c.booster.vacuum); err != nil {
		return err
	}
	b := c.booster
	switch b.kind {
	case gainOnly:
		c.r.step("with the booster = %.4g x %s = %s", float64(b.Gain), own(c.s, rod), amount(c.s, c.rod))
		c.r.warn("The booster's gain holds only while it has vacuum or pressure left. Past its run-out it adds no more.")
	case withKnee:
		knee := b.knee()
		switch {
		case rod <= b.CutIn:
			c.r.step("the booster does not move: %s is no more than its cut-in, %s", own(c.s, rod), amount(c.s, b.CutIn))
		case rod <= knee && b.CutIn == 0 && b.JumpIn == 0:
			c.r.step("with the booster = %.4g x %s = %s", float64(b.Gain), own(c.s, rod), amount(c.s, c.rod))
		case rod <= knee:
			c.r.step("with the booster = %s + %.4g x (%s - %s) = %s", own(c.s, b.JumpIn), float64(b.Gain), own(c.s, rod), own(c.s, b.CutIn), amount(c.s, c.rod))
		default:
			c.r.step("beyond its knee = %s + %s = %s", own(c.s, rod), own(c.s, b.most()), amount(c.s, c.rod))
			c.r.say("The booster has given all it has. From here more comes from the foot alone, and the pedal feels hard.")
		}
	}
	return nil
}

// most is all that the diaphragm can give.
func (b booster) most() unit.Force { return b.vacuum.On(b.Diaphragm) }

// knee is the rod force beyond which it gives no more.
func (b booster) knee() unit.Force {
	rod, _, err := b.Knee(b.vacuum)
	if err != nil {
		return unit.Force(math.NaN())
	}
	return rod
}

// showKnee works out the knee.
func (c *chain) showKnee(pedal unit.Ratio, havePedal bool) {
	b := c.booster
	if b.kind != withKnee {
		return
	}
	circles := ""
	for i, d := range b.widths {
		if i > 0 {
			circles += " + "
		}
		circles += "(" + c.size(d) + ")²"
	}
	if len(b.widths) > 1 {
		circles = "[" + circles + "]"
	}
	c.r.step("most that the vacuum gives = pi/4 x %s x %s = %s", circles, inHg(b.vacuum), amount(c.s, b.most()))
	over := own(c.s, b.most())
	if b.CutIn > 0 || b.JumpIn > 0 {
		over = fmt.Sprintf("(%s + %.4g x %s - %s)", over, float64(b.Gain), own(c.s, b.CutIn), own(c.s, b.JumpIn))
	}
	at := ""
	if havePedal {
		at = fmt.Sprintf(", at the pedal %s", amount(c.s, unit.Force(float64(b.knee())/float64(pedal))))
	}
	c.r.step("its knee at the rod = %s / (%.4g - 1) = %s%s", over, float64(b.Gain), amount(c.s, b.knee()), at)
}

// lostVacuum says what half of the vacuum, and none, do to the same foot, and
// what foot it takes for the same pressure.
func (c *chain) lostVacuum(rod unit.Force, pedal unit.Ratio) (Values, error) {
	nan := math.NaN()
	b := c.booster
	half, none, halfLost, noneLost := nan, nan, nan, nan // pressures in kPa, and how much less
	needed := [3]float64{nan, nan, nan}
	wanted := c.rod
	if p, ok := valueOf[unit.Pressure](c.in, "line-pressure"); ok {
		if !(p > 0) || math.IsInf(float64(p), 0) {
			return nil, &InputError{"line-pressure", fmt.Errorf("%v: want more than 0", p)}
		}
		if math.IsNaN(float64(c.master)) {
			return nil, &InputError{"line-pressure", fmt.Errorf("of which master cylinder? give --master")}
		}
		wanted = p.On(c.master)
		c.r.step("force on the master cylinder for %s = that x %s = %s", amount(c.s, p), own(c.s, c.master), amount(c.s, wanted))
	}
	if !math.IsNaN(float64(rod)) && c.rod > 0 && b.kind != noBooster {
		line := func(what string, out unit.Force) (pressure, lost float64, err error) {
			share, err := brakes.ShareLost(c.rod, out)
			if err != nil {
				return nan, nan, err
			}
			if math.IsNaN(float64(c.master)) {
				c.r.say("%s: the same foot brings %s, %s less.", what, amount(c.s, out), wholePercent(share))
				return nan, share.Percent(), nil
			}
			p := out.Over(c.master)
			c.r.say("%s: the same foot makes %s, %s less.", what, amount(c.s, p), wholePercent(share))
			return p.Kilopascals(), share.Percent(), nil
		}
		if b.kind == withKnee {
			out, err := b.out(rod, b.vacuum/2)
			if err != nil {
				return nil, err
			}
			if half, halfLost, err = line("Half of the vacuum", out); err != nil {
				return nil, err
			}
		}
		out, what := rod, "Without the booster's help"
		if b.kind == withKnee {
			what = "No vacuum"
			var err error
			if out, err = b.out(rod, 0); err != nil {
				return nil, err
			}
		}
		var err error
		if none, noneLost, err = line(what, out); err != nil {
			return nil, err
		}
	}
	if !math.IsNaN(float64(wanted)) && wanted > 0 {
		if err := c.feet(wanted, pedal, &needed); err != nil {
			return nil, err
		}
	}
	kneeRod, kneePedal := nan, nan
	if b.kind == withKnee {
		kneeRod = b.knee().Newtons()
		if len(c.in["pedal-ratio"]) > 0 {
			kneePedal = kneeRod / float64(pedal)
		}
	}
	return Values{
		{Key: "vacuum_kpa", Number: b.vacuum.Kilopascals()},
		{Key: "knee_rod_force_n", Number: kneeRod},
		{Key: "knee_pedal_force_n", Number: kneePedal},
		{Key: "half_vacuum_pressure_kpa", Number: half},
		{Key: "half_vacuum_lost_percent", Number: halfLost},
		{Key: "no_vacuum_pressure_kpa", Number: none},
		{Key: "no_vacuum_lost_percent", Number: noneLost},
		{Key: "needed_pedal_force_n", Number: needed[0]},
		{Key: "needed_half_vacuum_n", Number: needed[1]},
		{Key: "needed_no_vacuum_n", Number: needed[2]},
	}, nil
}

// feet works out the foot for a force on the master cylinder: with the vacuum
// as it is, with half of it, and with none.
func (c *chain) feet(wanted unit.Force, pedal unit.Ratio, needed *[3]float64) error {
	b := c.booster
	foot := func(rod unit.Force) unit.Force { return unit.Force(float64(rod) / float64(pedal)) }
	goal := "For the same pressure"
	switch p, ok := valueOf[unit.Pressure](c.in, "line-pressure"); {
	case ok:
		goal = "For " + amount(c.s, p)
	case math.IsNaN(float64(c.master)):
		goal = "For the same force"
	}
	at := "at the pedal"
	if len(c.in["pedal-ratio"]) == 0 {
		at = "at the rod"
	}
	full, err := b.needed(wanted, b.vacuum)
	if err != nil {
		return err
	}
	needed[0] = foot(full).Newtons()
	if b.kind == noBooster {
		if len(c.in["line-pressure"]) > 0 {
			c.r.say("%s it takes %s %s.", goal, amount(c.s, foot(full)), at)
		}
		needed[2] = needed[0]
		return nil
	}
	alone := wanted
	half := ""
	if b.kind == withKnee {
		h, err := b.needed(wanted, b.vacuum/2)
		if err != nil {
			return err
		}
		needed[1] = foot(h).Newtons()
		half = fmt.Sprintf(", with half of the vacuum %s", amount(c.s, foot(h)))
		if alone, err = b.needed(wanted, 0); err != nil {
			return err
		}
	}
	needed[2] = foot(alone).Newtons()
	c.r.say("%s it takes %s %s%s, with no help %s.", goal, amount(c.s, foot(full)), at, half, amount(c.s, foot(alone)))
	if f := brakes.FootMost; len(c.in["pedal-ratio"]) > 0 && foot(alone) > f.Value {
		c.r.say("A stop test lets nobody press with more than %s (%s). A pedal that has lost its help is a reason not to drive.", amount(c.s, f.Value), f.Mark)
		c.booster.sources = append(c.booster.sources, sourceOf("hardest foot", string(f.Mark), f.Source))
	}
	return nil
}

func wholePercent(r unit.Ratio) string { return fmt.Sprintf("%.0f %%", r.Percent()) }
