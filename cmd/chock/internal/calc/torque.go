package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
)

// builds are the words for a brake, the drum brakes with floating shoes among
// them.
var (
	floating = map[string]brakes.Build{
		brakes.LeadingTrailing.String(): brakes.LeadingTrailing, brakes.TwinLeading.String(): brakes.TwinLeading, brakes.DuoServo.String(): brakes.DuoServo,
	}
	brakeWords = []string{"disc", "leading-trailing", "twin-leading", "duo-servo"}
)

var brakeTorque = Calculation{
	Name:    "brake-torque",
	Command: "torque",
	Short:   "what a disc or drum brake holds its wheel with, and what less friction costs",
	Title:   "Brake torque",
	Inputs: []Input{
		{Name: "brake", Kind: unit.KindWord, Optional: true, Vehicle: "AXLE-drum-shoes", Say: "disc, leading-trailing, twin-leading, duo-servo, or pivoted for shoes on fixed pins"},
		{Name: "friction", Kind: unit.KindRatio, Optional: true, Vehicle: "AXLE-friction", Say: "of the lining; most lie near 0.35 to 0.4"},
		{Name: "code", Kind: unit.KindWord, Optional: true, Say: "letters on the edge of the lining, as FF: a band of friction, and so a band of torque"},
		{Name: "other-friction", Kind: unit.KindRatio, Optional: true, Say: "what the same brake does with this friction: a damp or glazed lining"},
		{Name: "pressure", Kind: unit.KindPressure, Optional: true, Say: "in the pipe to this brake"},
		{Name: "force", Kind: unit.KindForce, Optional: true, Say: "in place of a pressure: on each pad, or of one wheel-cylinder piston"},
		{Name: "caliper", Kind: unit.KindLength, List: true, Optional: true, Typed: true, Vehicle: "AXLE-piston-bore", Say: "piston of the caliper; of a stepped one the pistons of one side, each once"},
		{Name: "pistons", Beside: "caliper", Kind: unit.KindCount, Optional: true, Vehicle: "AXLE-pistons", Say: "how many such pistons on one side of the caliper (1 if not given)"},
		{Name: "effective-radius", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-effective-radius", Say: "disc: from the middle of the hub to the middle of the pads (effective radius)"},
		{Name: "pad-inner", Kind: unit.KindLength, Optional: true, Typed: true, Say: "in its place: from the middle of the hub to the inner edge of the pads"},
		{Name: "pad-outer", Kind: unit.KindLength, Optional: true, Typed: true, Say: "and to their outer edge"},
		{Name: "pad-angle", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "that the pads span, seen from the hub: for the pressure under them"},
		{Name: "pad-round", Kind: unit.KindLength, Optional: true, Typed: true, Say: "of a round pad: its radius, with --effective-radius to its middle"},
		{Name: "drum", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-drum-new", Say: "inner diameter of the drum"},
		{Name: "wheel-cylinder", Kind: unit.KindLength, Optional: true, Typed: true, Vehicle: "AXLE-wheel-cylinder-left", Say: "bore of the wheel cylinder"},
		{Name: "lining-angle", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "that the lining of a shoe spans, seen from the hub"},
		{Name: "second-lining-angle", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "of the other shoe, where it is not the same: the rear one of a duo-servo"},
		{Name: "cylinder-height", Kind: unit.KindLength, Optional: true, Typed: true, Say: "of the wheel cylinder over the middle of the hub"},
		{Name: "block-depth", Kind: unit.KindLength, Optional: true, Typed: true, Say: "of the fixed block, or of the loose link, below the middle of the hub"},
		{Name: "anchor-height", Kind: unit.KindLength, Optional: true, Typed: true, Say: "of the anchor pin of a duo-servo over the middle of the hub"},
		{Name: "direction", Kind: unit.KindWord, Optional: true, Say: "forward (if not given) or reverse"},
		{Name: "pivot", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pivoted: from the middle of the hub to the pin of a shoe"},
		{Name: "lining-from", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "pivoted: from the line to the pin to where the lining begins"},
		{Name: "lining-to", Kind: unit.KindAngle, Optional: true, Default: "deg", Say: "pivoted: and to where it ends"},
		{Name: "arm", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pivoted: arm of the wheel cylinder's push about the pin"},
		{Name: "lining-width", Kind: unit.KindLength, Optional: true, Typed: true, Say: "pivoted: of the lining, for the pressure under it"},
		{Name: "tyre-radius", Kind: unit.KindLength, Optional: true, Typed: true, Say: "from the middle of the wheel to the road: for the force at the road"},
	},
	Keys: []string{"brake_factor", "sensitivity", "sensitivity_relative", "effective_radius_mm", "force_n", "torque_nm", "usual_factor", "usual_torque_nm", "torque_low_nm", "torque_high_nm",
		"torque_nm_per_mpa", "torque_change_nm", "first_shoe_nm", "second_shoe_nm", "second_share_percent", "greatest_pressure_kpa",
		"force_line_mm", "locks_at_friction", "other_torque_nm", "loss_percent", "road_force_n"},
	run: runTorque,
}

// A grip is what is known of one brake; NaN is unknown.
type grip struct {
	in       inputs
	s        shower
	r        Result
	kind     string
	mu       unit.Ratio
	band     brakes.Band // of the letters, where they were given
	radius   unit.Length // at which the factor counts
	force    unit.Force  // on each pad, or of one piston
	area     unit.Area   // of the pistons that press one pad or shoe
	factor   brakes.Factor
	at       func(unit.Ratio) (brakes.Factor, error) // the same brake with another friction
	greatest unit.Pressure                           // under the lining
	line     unit.Length                             // of a pad
	usual    unit.Ratio                              // factor that a handbook gives such a drum, at this friction
	why      []string                                // what it means that it is such a brake
}

// costs are what a slick lining costs each sort of brake, for what is said of
// them all.
func costs() (disc, leadingTrailing, duoServo unit.Ratio, err error) {
	var out [3]unit.Ratio
	for i, word := range []string{"disc", "leading-trailing", "duo-servo"} {
		f := factorOf(word)
		before, err := f(brakes.FrictionUsual.Value)
		if err != nil {
			return 0, 0, 0, err
		}
		after, err := f(brakes.FrictionSlick.Value)
		if err != nil {
			return 0, 0, 0, err
		}
		out[i] = 1 - unit.Per(after, before)
	}
	return out[0], out[1], out[2], nil
}

// factorOf is the factor of a brake by its word, of common proportions where
// it is a drum brake.
func factorOf(word string) func(unit.Ratio) (unit.Ratio, error) {
	return func(mu unit.Ratio) (unit.Ratio, error) {
		if build, ok := floating[word]; ok {
			f, err := brakes.TypicalShoes(unit.Metre).Factor(build, mu, false)
			return f.Factor, err
		}
		f, err := brakes.DiscFactor(mu)
		return f.Factor, err
	}
}

// roundly is a torque with no more digits than it deserves, in both systems.
func (h *grip) roundly(t unit.Torque) string {
	own, other := "lb-ft", "Nm"
	if !h.s.inch {
		own, other = other, own
	}
	show := func(u string) string {
		v, _ := unit.Of(unit.Reading[unit.Torque]{Value: t}).In(u)
		digits := 0
		for limit := 100.0; math.Abs(v) < limit && digits < 2; limit /= 10 {
			digits++
		}
		return unit.FormatTo(unit.KindTorque, float64(t), u, digits)
	}
	return show(own) + " (" + show(other) + ")"
}

// because keeps words for after the torque.
func (h *grip) because(format string, args ...any) {
	h.why = append(h.why, fmt.Sprintf(format, args...))
}

// only refuses a flag that belongs to another brake than this one.
func (h *grip) only(names ...string) {
	for _, name := range names {
		if len(h.in[name]) > 0 {
			h.r.warn("--%s tells nothing of this brake: left out.", name)
		}
	}
}

// want gives a length that this brake cannot do without.
func (h *grip) want(name, why string) (unit.Length, error) {
	l, ok := h.in.length(name)
	if !ok {
		return l, &InputError{name, fmt.Errorf("is needed: %s", why)}
	}
	return l, nil
}

// angle gives an angle, NaN where it is not known.
func (h *grip) angle(name string) unit.Angle {
	a, _ := valueOf[unit.Angle](h.in, name)
	return a
}

func runTorque(raw map[string][]unit.Any) (Result, error) {
	nan := math.NaN()
	h := &grip{in: inputs(raw), force: unit.Force(nan), area: unit.Area(nan), greatest: unit.Pressure(nan), line: unit.Length(nan), usual: unit.Ratio(nan)}
	h.s = shower{inch: h.in.customary("pressure", "force", "effective-radius", "pad-inner", "pad-round", "drum", "caliper", "wheel-cylinder")}
	var err error
	if h.kind, err = h.in.word("brake", append(slices.Clone(brakeWords), "pivoted")...); err != nil {
		return Result{}, err
	}
	if h.kind == "" {
		if h.kind, err = h.guess(); err != nil {
			return Result{}, err
		}
	}
	if err := h.friction(); err != nil {
		return Result{}, err
	}
	switch _, drum := floating[h.kind]; {
	case drum:
		err = h.shoes()
	case h.kind == "pivoted":
		err = h.pivoted()
	default:
		err = h.disc()
	}
	if err != nil {
		return Result{}, err
	}
	if err := h.result(); err != nil {
		return Result{}, err
	}
	return h.r, nil
}

// guess says which brake it is by what was given of it.
func (h *grip) guess() (string, error) {
	for _, name := range []string{"effective-radius", "pad-inner", "pad-round"} {
		if len(h.in[name]) > 0 && len(h.in["drum"]) == 0 {
			return "disc", nil
		}
	}
	return "", &InputError{"brake", fmt.Errorf("is needed: disc, leading-trailing, twin-leading, duo-servo or pivoted")}
}

// friction takes the friction from its flag, or from the letters of the lining.
func (h *grip) friction() error {
	mu, have := valueOf[unit.Ratio](h.in, "friction")
	if len(h.in["code"]) > 0 {
		code, err := brakes.ParseEdgeCode(h.in["code"][0].Text)
		if err != nil {
			return blame("code", err)
		}
		h.band = code.Normal
		if !h.band.Known() || math.IsInf(float64(h.band.To), 0) {
			return &InputError{"code", fmt.Errorf("the letter %c says too little: give --friction", h.band.Letter)}
		}
		h.r.step("letter %c: friction over %.2f, up to %.2f (cold)", h.band.Letter, float64(h.band.Over), float64(h.band.To))
		h.r.Sources = append(h.r.Sources, sourceOf("letters", string(brakes.CodeC.Mark), brakes.CodeC.Source))
		if !have {
			mu, have = (h.band.Over+h.band.To)/2, true
			h.r.step("friction, the middle of the band = %.3f", float64(mu))
		} else if mu <= h.band.Over || mu > h.band.To {
			h.r.warn("The friction given, %.3f, is not one that the letter %c stands for.", float64(mu), h.band.Letter)
		}
	}
	if !have {
		return &InputError{"friction", fmt.Errorf("is needed, or --code: most linings lie near 0.35 to 0.4, and nobody can see it")}
	}
	h.mu = mu
	if _, err := brakes.DiscFactor(mu); err != nil {
		return blame("friction", err)
	}
	return nil
}

// press takes the force on a pad or of a piston: given, or pressure on a
// piston. of names the input that holds the piston.
func (h *grip) press(what, of string, area unit.Area) error {
	h.area = area
	pressure, havePressure := valueOf[unit.Pressure](h.in, "pressure")
	force, haveForce := valueOf[unit.Force](h.in, "force")
	switch {
	case havePressure && haveForce:
		return &InputError{"force", fmt.Errorf("give the pressure or the force, not both")}
	case havePressure && math.IsNaN(float64(area)):
		return &InputError{"pressure", fmt.Errorf("it presses on which piston? give --%s", of)}
	case havePressure:
		var err error
		if h.force, err = brakes.PistonForce(pressure, area); err != nil {
			return blame("pressure", err)
		}
		h.r.step("%s = %s x %s = %s", what, own(h.s, pressure), own(h.s, area), amount(h.s, h.force))
	case haveForce:
		if !(force >= 0 && !math.IsInf(float64(force), 0)) {
			return &InputError{"force", fmt.Errorf("%v: want 0 or more", force)}
		}
		h.force = force
		h.r.step("%s = %s", what, amount(h.s, force))
	}
	return nil
}

// disc is a disc brake: radius, force, factor.
func (h *grip) disc() error {
	h.only("drum", "wheel-cylinder", "lining-angle", "second-lining-angle", "cylinder-height", "block-depth", "anchor-height", "direction", "pivot", "lining-from", "lining-to", "arm", "lining-width")
	area := unit.Area(math.NaN())
	if len(h.in["caliper"]) > 0 {
		nan := math.NaN()
		c := chain{in: h.in, s: h.s, press: unit.Pressure(nan), master: unit.Area(nan), gain: unit.Ratio(nan)}
		var err error
		if area, _, _, err = c.front(); err != nil {
			return err
		}
		h.r.steps(c.r.Steps)
	} else if len(h.in["pistons"]) > 0 {
		h.only("pistons")
	}
	contact, pad, err := h.pad()
	if err != nil {
		return err
	}
	if err := h.press("force on each pad", "caliper", area); err != nil {
		return err
	}
	h.radius = contact.Radius
	h.at = brakes.DiscFactor
	if h.factor, err = h.at(h.mu); err != nil {
		return blame("friction", err)
	}
	h.r.step("brake factor = 2 x %.3f = %.3f (two faces)", float64(h.mu), float64(h.factor.Factor))
	if pad && !math.IsNaN(float64(h.force)) {
		h.greatest = h.force.Over(contact.Carrying)
		which := "greatest pressure under a run-in pad, at its inner edge"
		if len(h.in["pad-round"]) > 0 {
			which = "mean pressure under a pad"
		}
		h.r.step("%s = %s / %s = %s", which, own(h.s, h.force), own(h.s, contact.Carrying), amount(h.s, h.greatest))
	}
	h.because("A disc does not press its own pads: torque goes with friction, one for one.")
	return nil
}

// pad gives the contact of the pads; full is whether their face is known.
func (h *grip) pad() (c brakes.Contact, full bool, err error) {
	radius, haveRadius := h.in.length("effective-radius")
	inner, haveInner := h.in.length("pad-inner")
	outer, haveOuter := h.in.length("pad-outer")
	round, haveRound := h.in.length("pad-round")
	size := func(l unit.Length) string { return h.s.size(l) }
	switch {
	case haveRound && (haveInner || haveOuter):
		return c, false, &InputError{"pad-round", fmt.Errorf("a pad is round, or has an inner and an outer edge")}
	case haveRound && !haveRadius:
		return c, false, &InputError{"pad-round", fmt.Errorf("how far from the hub is its middle? give --effective-radius")}
	case haveRound:
		if c, err = brakes.RoundPad(round, radius); err != nil {
			return c, false, blame("pad-round", err)
		}
		h.line = c.ForceLine
		h.r.step("round pad: %s over %s = %.3f; by the table it works at %s", h.s.bare(round), h.s.bare(radius), float64(unit.Per(round, radius)), size(c.Radius))
		h.r.Sources = append(h.r.Sources, "round pads: Bhandari, Design of Machine Elements, table 12.1, page 495; adding up the pressures gives up to 3.4 in 100 more")
		return c, true, nil
	case haveInner != haveOuter:
		missing, given := "pad-outer", "pad-inner"
		if haveOuter {
			missing, given = given, missing
		}
		return c, false, &InputError{given, fmt.Errorf("tells nothing without --%s", missing)}
	case haveInner:
		pad := brakes.Pad{Inner: inner, Outer: outer, Angle: h.angle("pad-angle")}
		full = len(h.in["pad-angle"]) > 0
		if !full {
			pad.Angle = unit.Degree // the radius is the same at any
		}
		if c, err = brakes.UniformWear(pad); err != nil {
			return c, false, blame(padInput(err), err)
		}
		fresh, err := brakes.UniformPressure(pad)
		if err != nil {
			return c, false, blame(padInput(err), err)
		}
		h.r.step("effective radius of run-in pads = (%s + %s) / 2 = %s", typed(h.in["pad-inner"][0]), typed(h.in["pad-outer"][0]), size(c.Radius))
		h.r.step("of new ones = 2/3 x (%s³ - %s³) / (%s² - %s²) = %s", h.s.bare(outer), h.s.bare(inner), h.s.bare(outer), h.s.bare(inner), size(fresh.Radius))
		if full {
			h.line = c.ForceLine
			h.r.step("the piston should push at %s from the hub", size(c.ForceLine))
		}
		if haveRadius {
			h.only("effective-radius")
		}
		return c, full, nil
	case haveRadius:
		h.only("pad-angle")
		if !(radius > 0) || math.IsInf(float64(radius), 0) {
			return c, false, &InputError{"effective-radius", fmt.Errorf("%v: want more than 0", radius)}
		}
		h.r.step("effective radius = %s", size(radius))
		return brakes.Contact{Radius: radius}, false, nil
	}
	return c, false, &InputError{"effective-radius", fmt.Errorf("is needed: from the hub to the middle of the pads, or --pad-inner and --pad-outer")}
}

// padInput is the input of a pad that a formula refused.
func padInput(err error) string {
	switch text := err.Error(); {
	case strings.HasPrefix(text, "inner"):
		return "pad-inner"
	case strings.HasPrefix(text, "angle"):
		return "pad-angle"
	}
	return "pad-outer"
}

// cylinder is the area of one wheel-cylinder piston, NaN where it is unknown.
func (h *grip) cylinder() (unit.Area, error) {
	bore, ok := h.in.length("wheel-cylinder")
	if !ok {
		return unit.Area(math.NaN()), nil
	}
	area, err := brakes.PistonArea([]unit.Length{bore})
	if err != nil {
		return area, blame("wheel-cylinder", err)
	}
	h.r.step("one piston = pi/4 x (%s)² = %s", typed(h.in["wheel-cylinder"][0]), amount(h.s, area))
	return area, nil
}

// drum is the radius of the drum.
func (h *grip) drum() error {
	d, err := h.want("drum", "the inner diameter of the drum")
	if err != nil {
		return err
	}
	if !(d > 0) || math.IsInf(float64(d), 0) {
		return &InputError{"drum", fmt.Errorf("%v: want more than 0", d)}
	}
	h.radius = d / 2
	h.r.step("radius of the drum = %s / 2 = %s", typed(h.in["drum"][0]), h.s.size(h.radius))
	return nil
}

// shoes is a drum brake with floating shoes.
func (h *grip) shoes() error {
	h.only("caliper", "pistons", "effective-radius", "pad-inner", "pad-outer", "pad-angle", "pad-round", "pivot", "lining-from", "lining-to", "arm", "lining-width")
	build := floating[h.kind]
	way, err := h.in.word("direction", "forward", "reverse")
	if err != nil {
		return err
	}
	reverse := way == "reverse"
	if err := h.drum(); err != nil {
		return err
	}
	d := brakes.TypicalShoes(h.radius)
	taken := 0
	for _, x := range []struct {
		name string
		to   *unit.Length
	}{{"cylinder-height", &d.Cylinder}, {"block-depth", &d.Abutment}, {"anchor-height", &d.Anchor}} {
		switch l, ok := h.in.length(x.name); {
		case ok && x.to == &d.Anchor && build != brakes.DuoServo:
			h.only(x.name)
		case ok:
			*x.to = l
		case x.to != &d.Anchor || build == brakes.DuoServo:
			taken++
		}
	}
	if a := h.angle("lining-angle"); !math.IsNaN(float64(a)) {
		d.First, d.Second = a, a
	} else {
		taken++
	}
	if a := h.angle("second-lining-angle"); !math.IsNaN(float64(a)) {
		if _, err := brakes.FrictionRadius(h.radius, a); err != nil {
			return blame("second-lining-angle", err)
		}
		d.Second = a
	}
	h.at = func(mu unit.Ratio) (brakes.Factor, error) { return d.Factor(build, mu, reverse) }
	if h.factor, err = h.at(h.mu); err != nil {
		return blame(shoeInput(err), err)
	}
	area, err := h.cylinder()
	if err != nil {
		return err
	}
	if err := h.press("force of one piston", "wheel-cylinder", area); err != nil {
		return err
	}
	if reverse {
		d.First, d.Second = d.Second, d.First
	}
	if err := h.shoeSteps(d, build, reverse); err != nil {
		return err
	}
	if taken > 0 {
		h.r.warn("What was not given of the shoes is our estimate: cylinder, block and anchor at %.1f of the drum's radius, linings of %.0f degrees.", float64(brakes.ShoeReach.Value), brakes.ShoeSpan.Value.Degrees())
	}
	return h.modelWarnings(build, reverse)
}

// shoeSteps are the moments of both shoes, as at the board.
func (h *grip) shoeSteps(d brakes.FloatingShoes, build brakes.Build, reverse bool) error {
	rho1, err := brakes.FrictionRadius(d.Drum, d.First)
	if err != nil {
		return blame("lining-angle", err)
	}
	rho2, err := brakes.FrictionRadius(d.Drum, d.Second)
	if err != nil {
		return blame("second-lining-angle", err)
	}
	mu, b := float64(h.mu), h.s.bare
	pressed := func(part unit.Ratio, rho unit.Length) float64 {
		return float64(part) * float64(d.Drum) / (mu * float64(rho))
	}
	n1, n2 := pressed(h.factor.First, rho1), pressed(h.factor.Second, rho2)
	h.r.step("the drum rubs as if at %s from the hub", h.s.size(rho1))
	if rho2 != rho1 {
		h.r.step("on the other shoe at %s", h.s.size(rho2))
	}
	first, second := "-", "+" // what friction does to the arm
	switch {
	case build == brakes.TwinLeading && reverse:
		first = "+"
	case build == brakes.TwinLeading:
		second = "-"
	}
	h.r.step("first shoe, times its piston's force: (%s + %s) / (%s %s %.3f x %s) = %.3f", b(d.Cylinder), b(d.Abutment), b(d.Abutment), first, mu, b(rho1), n1)
	if build == brakes.DuoServo {
		h.r.step("so the link pushes the other shoe with %.3f - 1 = %.3f", n1, n1-1)
		h.r.step("second shoe: (%.3f x (%s + %s) + (%s - %s)) / (%s - %.3f x %s) = %.3f", n1-1, b(d.Abutment), b(d.Anchor), b(d.Anchor), b(d.Cylinder), b(d.Anchor), mu, b(rho2), n2)
	} else {
		h.r.step("second shoe: (%s + %s) / (%s %s %.3f x %s) = %.3f", b(d.Cylinder), b(d.Abutment), b(d.Abutment), second, mu, b(rho2), n2)
	}
	h.r.step("brake factor = %.3f x (%.3f x %s + %.3f x %s) / %s = %.3f", mu, n1, b(rho1), n2, b(rho2), b(d.Drum), float64(h.factor.Factor))
	return nil
}

// shoeInput is the input of floating shoes that a formula refused.
func shoeInput(err error) string {
	return refusedInput(err, "height of the cylinder", "cylinder-height", "depth of the block", "block-depth", "height of the anchor", "anchor-height", "angle", "lining-angle", "friction", "friction")
}

// refusedInput finds the input of what a formula refused, by how its name for
// it begins: pairs of that beginning and the input. The drum is the rest.
func refusedInput(err error, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		if strings.HasPrefix(err.Error(), pairs[i]) {
			return pairs[i+1]
		}
	}
	return "drum"
}

// modelWarnings say how far floating shoes are to be believed.
func (h *grip) modelWarnings(build brakes.Build, reverse bool) error {
	h.r.warn("This way of reckoning gives more than a drum brake has: shoes bend and slide. How two frictions compare is nearer to the truth than the torque itself.")
	if !(build == brakes.TwinLeading && reverse) {
		typical := map[brakes.Build]brakes.Figure[unit.Ratio]{brakes.LeadingTrailing: brakes.FactorLeadingTrailing, brakes.TwinLeading: brakes.FactorTwinLeading, brakes.DuoServo: brakes.FactorDuoServo}[build]
		var err error
		if h.usual, err = brakes.UsualFactor(build, h.mu); err != nil {
			return blame("friction", err)
		}
		h.r.step("a handbook has a factor of %.0f at friction 0.38 to 0.40 (%s); at %.3f that is %.3f", float64(typical.Value), typical.Mark, float64(h.mu), float64(h.usual))
		h.r.Sources = append(h.r.Sources, sourceFigure(h.s.inch, "usual factor", typical))
	}
	if h.mu > brakes.FloatingTrusted.Value {
		h.r.warn("Over a friction of %.2f it gives far too much (%s).", float64(brakes.FloatingTrusted.Value), brakes.FloatingTrusted.Mark)
	}
	switch {
	case build == brakes.TwinLeading && reverse:
		h.because("In reverse the drum drags both shoes off, so it holds much less than forward.")
	case build == brakes.TwinLeading:
		h.because("The drum drags both shoes on, which presses them harder: that makes this brake strong, and touchy.")
	default:
		h.because("The drum drags the first shoe on, which presses it harder: that makes this brake strong, and touchy.")
	}
	if build == brakes.DuoServo {
		h.because("The first shoe pushes the second, which does %.0f %% of the work.", h.factor.SecondShare().Percent())
	}
	return nil
}

// pivoted is a drum brake with two shoes on fixed pins, one dragged on.
func (h *grip) pivoted() error {
	h.only("caliper", "pistons", "effective-radius", "pad-inner", "pad-outer", "pad-angle", "pad-round", "lining-angle", "second-lining-angle", "cylinder-height", "block-depth", "anchor-height")
	if _, err := h.in.word("direction", "forward", "reverse"); err != nil {
		return err
	}
	if err := h.drum(); err != nil {
		return err
	}
	s := brakes.PivotedShoe{Drum: h.radius, Width: unit.Metre, From: h.angle("lining-from"), To: h.angle("lining-to")}
	var err error
	if s.Pivot, err = h.want("pivot", "from the middle of the hub to the pin"); err != nil {
		return err
	}
	if s.Arm, err = h.want("arm", "arm of the wheel cylinder's push about the pin"); err != nil {
		return err
	}
	for _, name := range []string{"lining-from", "lining-to"} {
		if len(h.in[name]) == 0 {
			return &InputError{name, fmt.Errorf("is needed: from the line to the pin to an end of the lining")}
		}
	}
	width, haveWidth := h.in.length("lining-width")
	if haveWidth {
		s.Width = width
	}
	h.at = s.Factor
	if h.factor, err = s.Factor(h.mu); err != nil {
		return blame(pivotInput(err), err)
	}
	area, err := h.cylinder()
	if err != nil {
		return err
	}
	if err := h.press("force of one piston", "wheel-cylinder", area); err != nil {
		return err
	}
	m, err := s.Moments(h.mu)
	if err != nil {
		return err
	}
	// For each unit of width, so that none has to be known.
	per := func(v unit.Volume) string {
		a := unit.Area(float64(v) / float64(s.Width))
		return own(h.s, a)
	}
	h.r.step("pressure is greatest at %.0f degrees from the line to the pin", s.Hardest().Degrees())
	h.r.step("for each unit of pressure and width, about the pin: the drum pushes off with %s and drags with %s; torque %s", per(m.Normal), per(m.Friction), per(m.Torque))
	r := h.s.bare(s.Drum)
	h.r.step("leading shoe = %s / %s x %s / (%s - %s) = %.3f", h.s.bare(s.Arm), r, per(m.Torque), per(m.Normal), per(m.Friction), float64(h.factor.First))
	h.r.step("trailing shoe = %s / %s x %s / (%s + %s) = %.3f", h.s.bare(s.Arm), r, per(m.Torque), per(m.Normal), per(m.Friction), float64(h.factor.Second))
	h.r.step("brake factor = %.3f + %.3f = %.3f", float64(h.factor.First), float64(h.factor.Second), float64(h.factor.Factor))
	if haveWidth && !math.IsNaN(float64(h.force)) {
		load, err := s.PressedBy(h.mu, h.force, brakes.Leading)
		if err != nil {
			return err
		}
		h.greatest = load.Greatest
		h.r.step("greatest pressure, under the leading shoe = %s", amount(h.s, h.greatest))
	}
	h.because("The drum drags one shoe on and the other off. In reverse they change their parts, and together hold as much.")
	h.r.warn("Stiff shoes and a round drum are taken: real ones bend, and their linings wear in.")
	return nil
}

// pivotInput is the input of a pivoted shoe that a formula refused.
func pivotInput(err error) string {
	return refusedInput(err, "width", "lining-width", "distance of the pivot", "pivot", "arm", "arm", "angle where the lining begins", "lining-from", "angle where the lining ends", "lining-to", "friction", "friction")
}

// result is what factor, force and radius come to.
func (h *grip) result() error {
	nan := unit.Torque(math.NaN())
	torque, usual, low, high, other, first, second, change := nan, nan, nan, nan, nan, nan, nan, nan
	perMPa, road, loss := math.NaN(), unit.Force(math.NaN()), unit.Ratio(math.NaN())
	r := &h.r
	known := !math.IsNaN(float64(h.force))
	if known {
		torque = h.factor.Torque(h.force, h.radius)
		r.step("torque = %.3f x %s at %s = %s", float64(h.factor.Factor), own(h.s, h.force), h.s.long(h.radius), amount(h.s, torque))
		r.say("By this it holds the wheel with about %s.", h.roundly(torque))
		if !math.IsNaN(float64(h.usual)) {
			usual = unit.Force(float64(h.usual) * float64(h.force)).At(h.radius)
			r.step("by the handbook's factor = %.3f x %s at %s = %s", float64(h.usual), own(h.s, h.force), h.s.long(h.radius), amount(h.s, usual))
			r.say("By the factor that a handbook gives such drums: about %s. That is nearer to what is there, and drums of one build differ by a quarter.", h.roundly(usual))
		}
		first = unit.Torque(float64(h.factor.First) * float64(h.force.At(h.radius)))
		second = torque - first
		change = unit.Torque(float64(h.factor.Slope) * 0.01 * float64(h.force.At(h.radius)))
	} else {
		r.warn("No pressure and no force given: the factor says what the brake makes of one.")
	}
	if !math.IsNaN(float64(h.area)) {
		perMPa = float64(h.factor.Torque(unit.Megapascal.On(h.area), h.radius))
	}
	relative := float64(h.factor.Slope) * float64(h.mu) / float64(h.factor.Factor)
	if h.band.Letter != 0 {
		at := func(mu unit.Ratio) (unit.Torque, error) {
			if mu == 0 || !known {
				return unit.Torque(float64(h.force) * 0), nil
			}
			f, err := h.at(mu)
			return f.Torque(h.force, h.radius), err
		}
		var err error
		if low, err = at(h.band.Over); err != nil {
			return blame("code", err)
		}
		if high, err = at(h.band.To); err != nil {
			return blame("code", err)
		}
		if known {
			r.say("By its letter the lining may grip anywhere in its band: %s to %s.", h.roundly(low), h.roundly(high))
		}
	}
	r.Say = append(r.Say, h.why...)
	r.say("1 %% less friction costs %.1f %% of the torque.", relative)
	if known {
		r.say("From %.2f to %.2f it gains %s.", float64(h.mu), float64(h.mu)+0.01, h.roundly(change))
	}
	if mu, ok := valueOf[unit.Ratio](h.in, "other-friction"); ok {
		f, err := h.at(mu)
		if err != nil {
			return blame("other-friction", err)
		}
		loss = 1 - unit.Per(f.Factor, h.factor.Factor)
		r.step("with friction %.3f the factor is %.3f: (%.3f - %.3f) / %.3f = %s less", float64(mu), float64(f.Factor), float64(h.factor.Factor), float64(f.Factor), float64(h.factor.Factor), percent(loss))
		other = f.Torque(h.force, h.radius)
		word := "less"
		if loss < 0 {
			word = "more"
		}
		r.say("A lining of friction %.2f on this wheel: %s %s. If the other side has %.2f, it pulls.", float64(mu), percent(unit.Ratio(math.Abs(float64(loss)))), word, float64(h.mu))
	}
	disc, leading, duo, err := costs()
	if err != nil {
		return err
	}
	r.say("A lining of %.2f instead of %.2f costs a disc %.0f %%, a leading-trailing drum %.0f %%, a duo-servo drum %.0f %%.",
		float64(brakes.FrictionSlick.Value), float64(brakes.FrictionUsual.Value), disc.Percent(), leading.Percent(), duo.Percent())
	if tyre, ok := h.in.length("tyre-radius"); ok {
		if !(tyre > 0) || math.IsInf(float64(tyre), 0) {
			return &InputError{"tyre-radius", fmt.Errorf("%v: want more than 0", tyre)}
		}
		if known {
			road = torque.Over(tyre)
			r.step("force at the road = %s / %s = %s", own(h.s, torque), typed(h.in["tyre-radius"][0]), amount(h.s, road))
			r.say("Where the tyre cannot hold that, the wheel locks, and more pressure brakes no better.")
		}
	}
	r.warn("It is an explanation, not a test: heat, speed, water, grease and new linings change the friction, and nobody can see it. The vehicle's manual and a qualified technician come first.")
	secondShare := math.NaN()
	if h.kind != "disc" {
		secondShare = h.factor.SecondShare().Percent()
	} else {
		first, second = nan, nan
	}
	locks := float64(h.factor.LocksAt)
	r.Values = Values{
		{Key: "brake_factor", Number: float64(h.factor.Factor)},
		{Key: "sensitivity", Number: float64(h.factor.Slope)},
		{Key: "sensitivity_relative", Number: relative},
		{Key: "effective_radius_mm", Number: h.radius.Millimetres()},
		{Key: "force_n", Number: h.force.Newtons()},
		{Key: "torque_nm", Number: torque.NewtonMetres()},
		{Key: "usual_factor", Number: float64(h.usual)},
		{Key: "usual_torque_nm", Number: usual.NewtonMetres()},
		{Key: "torque_low_nm", Number: low.NewtonMetres()},
		{Key: "torque_high_nm", Number: high.NewtonMetres()},
		{Key: "torque_nm_per_mpa", Number: perMPa},
		{Key: "torque_change_nm", Number: change.NewtonMetres()},
		{Key: "first_shoe_nm", Number: first.NewtonMetres()},
		{Key: "second_shoe_nm", Number: second.NewtonMetres()},
		{Key: "second_share_percent", Number: secondShare},
		{Key: "greatest_pressure_kpa", Number: h.greatest.Kilopascals()},
		{Key: "force_line_mm", Number: h.line.Millimetres()},
		{Key: "locks_at_friction", Number: locks},
		{Key: "other_torque_nm", Number: other.NewtonMetres()},
		{Key: "loss_percent", Number: loss.Percent()},
		{Key: "road_force_n", Number: road.Newtons()},
	}
	switch {
	case h.kind == "disc":
		r.Sources = append(r.Sources, "disc: friction on two faces; pads: Shigley's Mechanical Engineering Design, section 16-6 (from memory)")
	case h.kind == "pivoted":
		r.Sources = append(r.Sources, "shoes on pins: Shigley's Mechanical Engineering Design, sections 16-2 and 16-3, checked against its printed solutions")
	default:
		r.Sources = append(r.Sources, "floating shoes: moments about block, link and anchor at the centre of pressure, derived for this program (our estimate)",
			sourceFigure(h.s.inch, "shoes' proportions", brakes.ShoeReach))
	}
	r.Sources = append(r.Sources, fmt.Sprintf("friction of %.2f and %.2f, leading-trailing and duo-servo of common proportions: %s (%s)", float64(brakes.FrictionUsual.Value), float64(brakes.FrictionSlick.Value), brakes.FrictionUsual.Source, brakes.FrictionUsual.Mark))
	return nil
}
