package main

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"chock/brakes"
	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// A figure is one thing that a vehicle file can hold. The table of them serves
// the prompts, the file and brakes.Vehicle alike.
type figure struct {
	tree.Figure
	words []ask.Choice       // what it can be, where it is no number
	check func(string) error // of a word that is typed
	use   string             // useLimit, or useBuild: what only a calculation needs
}

// The parts in which figures are asked for: what every owner should know first.
const (
	useLimit = "limits"
	useBuild = "build"
)

// vehicleFigures lists what a vehicle file can hold, in the order in which it
// is asked for: the figures of the books, which word them, and those that a
// calculation needs beside them.
func vehicleFigures(books ...*tree.Book) []figure {
	var out []figure
	have := map[string]bool{}
	add := func(f figure) {
		if !have[f.ID] {
			have[f.ID] = true
			out = append(out, f)
		}
	}
	var asked []*tree.Figure
	for _, b := range books {
		for _, g := range b.Figures {
			asked = append(asked, g)
		}
	}
	// What is cast on the part first: it is read at once, and it is what counts.
	cast := func(id string) bool {
		return strings.HasSuffix(id, "-rotor-discard") || strings.HasSuffix(id, "-drum-max")
	}
	slices.SortFunc(asked, func(a, b *tree.Figure) int {
		if cast(a.ID) != cast(b.ID) {
			if cast(a.ID) {
				return -1
			}
			return 1
		}
		return strings.Compare(a.ID, b.ID)
	})
	for _, axle := range []string{"front-", "rear-"} {
		rows := axleFigures(strings.TrimSuffix(axle, "-"))
		add(rows[0]) // disc or drum decides on the others
		for _, g := range asked {
			if strings.HasPrefix(g.ID, axle) {
				add(figure{Figure: *g, use: useLimit})
			}
		}
		for _, f := range rows {
			if f.use == useLimit {
				add(f)
			}
		}
	}
	for _, g := range asked {
		if axleOf(g.ID) == "" {
			add(figure{Figure: *g, use: useLimit})
		}
	}
	for _, f := range slices.Concat(wholeFigures(), axleFigures("front"), axleFigures("rear")) {
		add(f)
	}
	return out
}

// axleOf gives the axle of a figure, "" for one of the whole vehicle.
func axleOf(id string) string {
	for _, axle := range []string{"front", "rear"} {
		if strings.HasPrefix(id, axle+"-") {
			return axle
		}
	}
	return ""
}

// builtAs gives the sort of brake that a figure belongs to, "" for both.
func builtAs(id string) string {
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(id, w) })
	}
	switch {
	case has("drum", "wheel-cylinder"):
		return "drum"
	case has("rotor", "variation", "runout", "piston", "effective-radius"):
		return "disc"
	}
	return ""
}

// numberRow makes a row for a number; window is the plausible range.
func numberRow(id, use string, kind unit.Kind, us, metric, window, say, why, steps string) figure {
	lo, hi, err := unit.Window(kind, window)
	if err != nil {
		panic("chock: the window of " + id + ": " + err.Error())
	}
	return figure{Figure: tree.Figure{ID: id, Ask: say, Why: why, Steps: steps, Kind: kind, US: us, Metric: metric, Low: lo, High: hi, Between: window}, use: use}
}

func wholeFigures() []figure {
	return []figure{
		{Figure: tree.Figure{ID: "booster", Kind: unit.KindWord, Ask: "What helps the foot press the brakes (booster)?",
			Why:   "A pedal without help needs several times the force, so the same reading means another thing.",
			Steps: "Follow the rod of the pedal through the wall to the engine. A wide round can with a hose to the engine is vacuum. A block with hoses from the steering pump is hydraulic."},
			use: useBuild, words: []ask.Choice{
				{ID: "none", Say: "Nothing, the foot alone"}, {ID: "hydraulic", Say: "Pressure from the steering pump"}, {ID: "vacuum", Say: "Vacuum, a wide round can"}}},
		numberRow("booster-gain", useBuild, unit.KindRatio, "", "", "1.1 to 10", "By how much does the booster multiply the push of the pedal?",
			"The push on the master cylinder is the foot times the pedal ratio times this.",
			"Few manuals print it. Look under brake booster, as ratio or gain. Not sure is the usual answer."),
		{Figure: tree.Figure{ID: "circuits", Kind: unit.KindWord, Ask: "How many brake circuits are there?",
			Why:   "With one circuit a single leak takes all the brakes away.",
			Steps: "Count the chambers of the fluid reservoir, or the pipes that leave the master cylinder. One chamber is one circuit. Pipes to a front and to the opposite rear wheel are diagonal."},
			use: useBuild, words: []ask.Choice{
				{ID: "one", Say: "One for all wheels"}, {ID: "diagonal", Say: "Two, each for one front and the opposite rear wheel"}, {ID: "two", Say: "Two, one for each axle"}}},
		numberRow("master-bore", useBuild, unit.KindLength, "in", "mm", "0.5 in to 1.75 in", "What bore is cast on the master cylinder?",
			"Its area turns force into pressure. Another bore changes the pedal's travel and its effort.",
			"Look at the side of the casting, often a fraction such as 1 or 15/16, or millimetres. The box of a new one says it too."),
		numberRow("pedal-ratio", useBuild, unit.KindRatio, "", "", "2 to 9", "How many times longer is the pedal's long arm than its short one?",
			"The pedal is a lever. This is how many times it multiplies the foot.",
			"Measure from the pivot to the middle of the pad, and from the pivot to the pin of the rod. The first divided by the second is the ratio: 12 in by 2.5 in is 4.8."),
		numberRow("wheelbase", useBuild, unit.KindLength, "in", "mm", "60 in to 200 in", "How far apart are the axles (wheelbase)?",
			"With the height of the centre of gravity it says how much load goes forward in a stop.",
			"Measure on one side, wheels straight ahead, from the middle of one wheel to the middle of the other."),
		numberRow("centre-height", useBuild, unit.KindLength, "in", "mm", "12 in to 60 in", "How high over the ground is the centre of gravity?",
			"The higher it is, the more load leaves the rear wheels in a stop.",
			"Hardly any manual prints it, and no tape measures it. Not sure is the usual answer."),
		numberRow("booster-diaphragm", useBuild, unit.KindLength, "in", "mm", "4 in to 14 in", "How wide is the working part of the vacuum can?",
			"With the vacuum it says how far the booster can help before it has given all it has.",
			"The can is a little wider than what works in it: about nineteen twentieths of its outer width."),
		numberRow("valve-knee", useBuild, unit.KindPressure, "psi", "kPa", "50 psi to 1500 psi", "At what pressure does the valve for the rear brakes begin to hold back?",
			"Beyond it the rear gets less than the front, so that the rear wheels do not lock first.",
			"Only manuals and some parts pages print it, as split point or knee. Not sure is the usual answer."),
		numberRow("valve-slope", useBuild, unit.KindRatio, "", "", "0.05 to 1", "Beyond that pressure, what share of a rise reaches the rear?",
			"It goes with the pressure of the valve.",
			"Printed with the other figure, as slope or ratio, such as 0.3. Not sure is the usual answer."),
		numberRow("axle-ratio", useBuild, unit.KindRatio, "", "", "2 to 8", "How often does the shaft turn for one turn of the driven wheels?",
			"With speed and tyre it says how fast the shaft turns, and so whether a shake belongs to it.",
			"On a tag at the axle or in the manual, such as 3.55. Or mark the shaft and a tyre, turn the wheels ten times, and count."),
	}
}

// axleFigures gives the rows of one axle, disc or drum first.
func axleFigures(axle string) []figure {
	id := func(name string) string { return axle + "-" + name }
	return []figure{
		{Figure: tree.Figure{ID: id("brake"), Kind: unit.KindWord, Ask: "Which brakes are on the " + axle + " axle?",
			Why:   "Only the figures of that sort are asked for.",
			Steps: "Look through the wheel. A flat shiny ring with a clamp over it is a disc, a closed iron pot is a drum."},
			use: useLimit, words: []ask.Choice{{ID: "disc", Say: "Disc"}, {ID: "drum", Say: "Drum"}}},
		numberRow(id("lining-least"), useLimit, unit.KindLength, "in", "mm", "0.01 in to 0.4 in", "How thin may the "+axle+" linings wear, by the manual?",
			"Below this figure the lining is scrap. It belongs to the way the lining is fixed: rivets need more above them than glue.",
			"Look in the manual under lining, least or wear limit, and whether it counts the steel backing. Local inspection rules may ask for more."),
		numberRow(id("lining-new"), useBuild, unit.KindLength, "in", "mm", "0.05 in to 1 in", "How thick is a new "+axle+" lining, without its backing?",
			"New thickness and miles since then tell how long the rest will last.",
			"Measure a new pad or shoe, or look in the manual. Without the steel behind it."),
		numberRow(id("rotor-new"), useBuild, unit.KindLength, "in", "mm", "0.2 in to 2 in", "How thick is a new "+axle+" rotor?",
			"It tells how much has worn away, and whether the discard figure was read right.",
			"The manual gives it as nominal or standard thickness, or measure a new one."),
		numberRow(id("piston-bore"), useBuild, unit.KindLength, "in", "mm", "0.8 in to 4 in", "How wide is a piston of the "+axle+" caliper?",
			"Its area times the pressure is the force on a pad.",
			"Cast on some calipers. Else measure the piston with the pads out, or look in the manual or at a rebuild kit."),
		numberRow(id("pistons"), useBuild, unit.KindCount, "", "", "1 to 4", "How many pistons press on one side of the "+axle+" rotor?",
			"One side counts: the pad of the other side is pressed just as hard without more.",
			"Look into the caliper with a lamp. A caliper that slides has them on the inner side only. A fixed one has as many again on the outer side: do not count those."),
		numberRow(id("effective-radius"), useBuild, unit.KindLength, "in", "mm", "2 in to 9 in", "At what radius do the pads hold the "+axle+" rotor?",
			"Force times this radius is the torque that stops the wheel.",
			"Measure from the middle of the hub to the inner and to the outer edge of the band that the pads polish. The mean of both is near enough."),
		numberRow(id("drum-new"), useBuild, unit.KindLength, "in", "mm", "5 in to 20 in", "How wide is a new "+axle+" drum inside?",
			"It tells how much has worn away, and whether the largest diameter was read right.",
			"The manual gives it as nominal or standard diameter. It is also the size by which drums are sold."),
		numberRow(id("wheel-cylinder-left"), useBuild, unit.KindLength, "in", "mm", "0.4 in to 1.75 in", "What bore is cast on the left "+axle+" wheel cylinder?",
			"Both wheels of an axle need one bore. A different one on one side makes the axle brake unevenly.",
			"Look behind the backing plate, on the back of the cylinder, often a fraction such as 7/8, or millimetres."),
		numberRow(id("wheel-cylinder-right"), useBuild, unit.KindLength, "in", "mm", "0.4 in to 1.75 in", "What bore is cast on the right "+axle+" wheel cylinder?",
			"Read it at the wheel, not from the other side: they may differ, and that is worth knowing.",
			"Look behind the backing plate, on the back of the cylinder."),
		{Figure: tree.Figure{ID: id("drum-shoes"), Kind: unit.KindWord, Ask: "How are the two shoes of a " + axle + " drum held?",
			Why:   "It decides how much the drum helps to press its own shoes, and how much an oily or glazed lining costs.",
			Steps: "Drum off. Both shoes stand on a fixed block below, one cylinder above: leading and trailing. Two cylinders, one for each shoe: twin leading. The shoes hang from one pin above, a loose link joins them below: duo-servo."},
			use: useBuild, words: []ask.Choice{
				{ID: "duo-servo", Say: "One pin above, a loose link below"}, {ID: "leading-trailing", Say: "A fixed block below, one cylinder above"}, {ID: "twin-leading", Say: "Two cylinders, one for each shoe"}}},
		numberRow(id("drum-mass"), useBuild, unit.KindMass, "lb", "kg", "3 lb to 100 lb", "What does one "+axle+" drum weigh?",
			"Heat from a stop goes into its iron: half the weight, twice the rise.",
			"Put it on a scale while it is off. The parcel of a new one says it too."),
		numberRow(id("rotor-mass"), useBuild, unit.KindMass, "lb", "kg", "3 lb to 80 lb", "What does one "+axle+" rotor weigh?",
			"Heat from a stop goes into its iron: half the weight, twice the rise.",
			"Put it on a scale while it is off. The parcel of a new one says it too."),
		numberRow(id("friction"), useBuild, unit.KindRatio, "", "", "0.1 to 0.7", "What friction do the "+axle+" linings have?",
			"Force times friction is what slows the wheel.",
			"No owner can measure it. Most linings lie near 0.35 to 0.4. Two letters on the edge of the lining give a band, such as FF. Not sure is the usual answer."),
		numberRow(id("track"), useBuild, unit.KindLength, "in", "mm", "35 in to 90 in", "How far apart are the two "+axle+" tyres, middle to middle (track)?",
			"When one side brakes harder, this is the lever by which it turns the vehicle.",
			"On level ground, from the middle of one tread to the middle of the other."),
		{Figure: tree.Figure{ID: id("tyre"), Kind: unit.KindWord, Ask: "Which tyre size is on the " + axle + " wheels?",
			Why:   "Speed and tyre size tell how often a second the wheel turns, and so what shakes.",
			Steps: "Read it on the sidewall: 235/75R15, 31x10.50R15, or on old tyres 7.00-15 or G78-15."},
			use: useBuild, check: checkTyre},
		numberRow(id("load-empty"), useBuild, unit.KindMass, "lb", "kg", "200 lb to 10000 lb", "What does the "+axle+" axle weigh with a driver and nothing else?",
			"Both wheels together. How the weight lies decides which axle locks first.",
			"A public scale weighs one axle at a time. The plate in the door gives only what is allowed, which is another thing."),
		numberRow(id("load-full"), useBuild, unit.KindMass, "lb", "kg", "200 lb to 15000 lb", "What does the "+axle+" axle weigh loaded as for a trip?",
			"The load decides how much of the braking each axle can take.",
			"The same scale, on the day it is loaded."),
	}
}

// checkTyre refuses what is no size on a sidewall: all of them end in the
// diameter of the rim in inches.
func checkTyre(s string) error {
	s = strings.TrimRight(strings.ToUpper(s), "CLT ")
	at := strings.LastIndexFunc(s, func(r rune) bool { return r != '.' && (r < '0' || r > '9') })
	rim, err := strconv.ParseFloat(s[at+1:], 64)
	if err != nil || rim < 8 || rim > 30 || at < 1 || len(s) > 20 {
		return errors.New("a size as on the sidewall, please: 235/75R15, 31x10.50R15, 7.00-15 or G78-15")
	}
	return nil
}

// typical reports whether a figure of no vehicle may stand for this one. It
// may not for a wear limit, nor for a limit that nobody has thought about yet.
func (f figure) typical() bool {
	for _, felt := range []string{"-variation-limit", "-runout-limit", "-roundness", "-lining-new"} {
		if strings.HasSuffix(f.ID, felt) {
			return true
		}
	}
	return f.use == useBuild || f.words != nil
}

// vehicleSlots tells the vehicle file what it has room for.
func vehicleSlots(figures []figure) []record.Slot {
	var out []record.Slot
	for _, f := range figures {
		s := record.Slot{ID: f.ID, Kind: f.Kind, Check: f.check, Low: f.Low, High: f.High, NoTypical: !f.typical(), Say: f.Ask, Find: f.Steps}
		for _, w := range f.words {
			s.Words = append(s.Words, w.ID)
		}
		if s.Words != nil {
			s.Say += " One of: " + strings.Join(s.Words, ", ") + "."
		}
		out = append(out, s)
	}
	return out
}

// vehicleOf puts the figures of a vehicle file where calculations look for
// them. One that brakes.Vehicle has no room for serves the talk alone.
func vehicleOf(car *record.Vehicle) brakes.Vehicle {
	v := brakes.Vehicle{Name: car.Name}
	for id, f := range car.Figures {
		if f.Open() {
			continue
		}
		g := given{f, brakes.Own}
		if f.Source == record.Typical {
			g.mark = brakes.Estimate
		}
		name := id
		a := &v.Front
		switch axleOf(id) {
		case "front":
			name = strings.TrimPrefix(id, "front-")
		case "rear":
			name, a = strings.TrimPrefix(id, "rear-"), &v.Rear
		}
		if axleOf(id) != "" {
			g.axle(a, name)
		} else {
			g.whole(&v, name)
		}
	}
	return v
}

// given is a figure of a vehicle file with the mark of its source.
type given struct {
	record.Figure
	mark brakes.Mark
}

func (g given) whole(v *brakes.Vehicle, name string) {
	switch name {
	case "booster":
		v.Booster = g.fact()
	case "circuits":
		v.Circuits = g.fact()
	case "booster-gain":
		into(&v.BoosterGain, g)
	case "master-bore":
		into(&v.MasterBore, g)
	case "pedal-ratio":
		into(&v.PedalRatio, g)
	case "wheelbase":
		into(&v.Wheelbase, g)
	case "centre-height":
		into(&v.CentreHeight, g)
	case "booster-diaphragm":
		into(&v.BoosterDiaphragm, g)
	case "valve-knee":
		into(&v.ValveKnee, g)
	case "valve-slope":
		into(&v.ValveSlope, g)
	case "axle-ratio":
		into(&v.AxleRatio, g)
	}
}

func (g given) axle(a *brakes.Axle, name string) {
	switch name {
	case "brake":
		a.Brake = g.fact()
	case "tyre":
		a.Tyre = g.fact()
	case "load-empty":
		into(&a.LoadEmpty, g)
	case "load-full":
		into(&a.LoadFull, g)
	case "pistons":
		into(&a.Pistons, g)
	case "drum-shoes":
		a.DrumShoes = g.fact()
	case "drum-mass":
		into(&a.DrumMass, g)
	case "rotor-mass":
		into(&a.RotorMass, g)
	case "friction":
		into(&a.Friction, g)
	default:
		if at := lengthOf(a, name); at != nil {
			into(at, g)
		}
	}
}

func lengthOf(a *brakes.Axle, name string) *brakes.Figure[unit.Length] {
	switch name {
	case "track":
		return &a.Track
	case "lining-new":
		return &a.LiningNew
	case "lining-least":
		return &a.LiningLeast
	case "rotor-new":
		return &a.RotorNew
	case "rotor-discard":
		return &a.RotorDiscard
	case "rotor-machine-to":
		return &a.RotorMachineTo
	case "variation-limit":
		return &a.VariationLimit
	case "runout-limit":
		return &a.RunoutLimit
	case "effective-radius":
		return &a.EffectiveRadius
	case "piston-bore":
		return &a.PistonBore
	case "drum-new":
		return &a.DrumNew
	case "drum-max":
		return &a.DrumMax
	case "drum-roundness":
		return &a.DrumRoundness
	case "wheel-cylinder-left":
		return &a.WheelCylinderLeft
	case "wheel-cylinder-right":
		return &a.WheelCylinderRight
	}
	return nil
}

func (g given) fact() brakes.Fact {
	return brakes.Fact{Value: g.Value.Text, Mark: g.mark, Source: g.Source}
}

func into[Q ~float64](to *brakes.Figure[Q], g given) {
	// A book of somebody else's may use an id for another quantity.
	if g.Value.Kind != unit.Of(unit.Reading[Q]{}).Kind {
		return
	}
	*to = brakes.Figure[Q]{Value: unit.As[Q](g.Value).Value, Mark: g.mark, Source: g.Source, Scope: g.Note}
}
