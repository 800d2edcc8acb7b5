package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"chock/brakes/unit"
	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
	"chock/tree"
)

// The class sheets: invented figures to start from.
//
//go:embed class/*.yaml
var classSheets embed.FS

// classes names the sheets.
func classes() []string {
	found, err := fs.Glob(classSheets, "class/*.yaml")
	if err != nil {
		panic(err) // the pattern is ours
	}
	for i := range found {
		found[i] = strings.TrimSuffix(path.Base(found[i]), ".yaml")
	}
	return found
}

// vehicleFlags are the flags of chock vehicle.
type vehicleFlags struct {
	from, units, color string
	plain              bool
}

func newVehicle() *cobra.Command {
	var f vehicleFlags
	cmd := &cobra.Command{
		Use:   "vehicle FILE",
		Short: "Write down the figures of one vehicle, for talks to come",
		Long: "Asks for a vehicle's own figures one after another, and writes them down in FILE,\n" +
			"plain YAML that any editor can change. What stands there is kept; what is open or\n" +
			"typical is asked for. A figure and where it is from go in one line: 1.12 in cast.\n" +
			"At every question: why, steps, not sure, back, change, note ..., stop (saves).\n\n" +
			"--from begins a new file with invented figures of a class, each marked typical,\n" +
			"to be replaced: pickup (discs in front, drums behind), compact (a small car, the\n" +
			"same), sedan (a large old car, four drums, one circuit). No wear limit is among\n" +
			"them: it belongs to the part alone.\n\n" +
			"chock talk --vehicle FILE takes its limits from the file.",
		Example:       "  chock vehicle blue.yaml\n  chock vehicle blue.yaml --from pickup\n  chock talk --vehicle blue.yaml",
		Args:          takes(cobra.ExactArgs(1)),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(cmd *cobra.Command, args []string) error { return vehicle(cmd, f, args[0]) },
	}
	fl := cmd.Flags()
	fl.StringVar(&f.from, "from", "", "begin with the invented figures of a `class`: "+strings.Join(classes(), ", "))
	fl.StringVar(&f.units, "units", "us", "what a bare number is in: us or metric")
	fl.StringVar(&f.color, "color", "auto", "auto, always or never")
	fl.BoolVar(&f.plain, "plain", false, "plain lines, no drawing: for screen readers and pipes")
	cmd.SetFlagErrorFunc(flagError)
	return cmd
}

// A clerk asks for the figures of one vehicle and keeps its file.
type clerk struct {
	figures []figure
	slots   []record.Slot
	car     *record.Vehicle
	file    *record.File
	begun   map[string]record.Figure // as the file had them
	named   bool                     // the name is the person's own
	past    []string                 // what was asked in this sitting, in order
	told    map[string]bool

	asker ask.Asker
	scr   *ask.Screen
	units string
}

// theName is the id of the one thing asked for that is no figure.
const theName = "vehicle"

func vehicle(cmd *cobra.Command, f vehicleFlags, name string) error {
	if f.units != "us" && f.units != "metric" {
		return usagef("--units %s: want us or metric", f.units)
	}
	if f.from != "" && !slices.Contains(classes(), f.from) {
		return usagef("--from %s: want one of %s", f.from, strings.Join(classes(), ", "))
	}
	b, err := tree.Open(bookAt(""), calculations())
	if err != nil {
		return err
	}
	if err := b.Rest(bookAt("")); err != nil {
		return err
	}
	c := &clerk{figures: vehicleFigures(b), units: f.units, told: map[string]bool{}}
	c.slots = vehicleSlots(c.figures)
	if c.file, c.car, err = record.OpenVehicle(name, c.slots); err != nil {
		return err
	}
	fresh := c.car == nil
	switch {
	case !fresh && f.from != "":
		return fmt.Errorf("%s exists, and --from begins a new file; go on without --from, or give another name", name)
	case f.from != "":
		if c.car, err = classSheet(f.from, c.slots); err != nil {
			return err
		}
	case fresh:
		c.car = &record.Vehicle{Figures: map[string]record.Figure{}}
	}
	c.named = !fresh && c.car.Name != "" && !c.sheetName()
	c.begun = map[string]record.Figure{}
	for id, f := range c.car.Figures {
		c.begun[id] = f
	}

	sess, err := ask.Open(ask.Terminal{In: cmd.InOrStdin(), Out: cmd.OutOrStdout(), Err: cmd.ErrOrStderr(), Plain: f.plain, Color: f.color})
	if err != nil {
		return usage(err)
	}
	defer sess.Close()
	c.asker, c.scr = sess.Asker, sess.Screen
	if f.from != "" { // wanted, whatever is said afterwards
		if err := c.save(); err != nil {
			return err
		}
	}
	c.greet(f.from)
	err = c.converse()
	if err != nil && !errors.Is(err, errStopped) {
		if len(c.past) > 0 || !fresh || f.from != "" {
			c.scr.Print(ask.Plain, "")
			c.scr.Print(ask.Plain, "Saved. Go on with:")
			c.scr.Print(ask.Plain, "  chock vehicle "+c.file.Path)
		}
		if errors.Is(err, ask.ErrInterrupt) {
			return exit{130, errors.New("interrupted; what was answered is saved")}
		}
		return err
	}
	if fresh { // a form to fill in, where nothing was answered
		if err := c.save(); err != nil {
			return err
		}
	}
	page, err := ask.NewScreen(cmd.OutOrStdout(), f.color)
	if err != nil {
		return err
	}
	return c.finish(page)
}

// classSheet reads one of the invented sheets.
func classSheet(class string, slots []record.Slot) (*record.Vehicle, error) {
	name := "class/" + class + ".yaml"
	data, err := classSheets.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return record.ParseVehicle(name, data, slots)
}

// sheetName reports that the vehicle still has the name of a sheet.
func (c *clerk) sheetName() bool {
	return slices.ContainsFunc(classes(), func(class string) bool {
		sheet, err := classSheet(class, c.slots)
		return err == nil && sheet.Name == c.car.Name
	})
}

func (c *clerk) greet(class string) {
	c.scr.Print(ask.Strong, "The figures of one vehicle, written down once, so that a check need not ask for them.")
	c.scr.Print(ask.Plain, "Give each with where it is from: 1.12 in cast. The words for that are cast, manual, measured, and typical, which is of no vehicle.")
	c.scr.Print(ask.Dim, "Not sure leaves it open. At any question you may say: why, steps, not sure, back, change, note ..., stop (saves).")
	if class != "" {
		c.scr.Print(ask.Plain, "")
		c.scr.Print(ask.Care, "These figures are invented and belong to no vehicle. Each is typical until you replace it; not sure leaves it as it is.")
	}
	if c.count(stateKnown)+c.count(stateTypical) == 0 {
		return
	}
	c.scr.Print(ask.Plain, "")
	c.scr.Print(ask.Strong, "What stands in the file")
	if c.car.Name != "" {
		c.scr.Item(ask.Plain, "  ", c.car.Name)
	}
	for _, f := range c.figures {
		if !c.car.Figures[f.ID].Open() {
			c.scr.Item(ask.Plain, "  ", plainID(f.ID)+": "+c.standing(f.ID))
		}
	}
}

// A state is what the file knows of a figure.
type state int

const (
	stateOpen state = iota
	stateTypical
	stateKnown
)

func (c *clerk) state(id string) state {
	switch f := c.car.Figures[id]; {
	case f.Open():
		return stateOpen
	case f.Source == record.Typical:
		return stateTypical
	}
	return stateKnown
}

// count counts the figures of this vehicle that are in a state.
func (c *clerk) count(s state) int {
	n := 0
	for _, f := range c.figures {
		if c.applies(f) && c.state(f.ID) == s {
			n++
		}
	}
	return n
}

// standing gives a figure in words.
func (c *clerk) standing(id string) string {
	f := c.car.Figures[id]
	text := "open"
	if !f.Open() {
		text = bothWays(f.Value) + ", " + f.Source
	}
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	return text
}

// bothWays gives a figure as it was typed, and in the other system. A
// wheelbase that was read in inches is nothing to anybody in feet.
func bothWays(a unit.Any) string {
	other := map[string]string{"in": "mm", "thou": "mm", "ft": "mm", "mm": "in", "cm": "in", "m": "in", "lb": "kg", "kg": "lb"}[a.Unit]
	v, ok := a.In(other)
	if !ok || other == "" {
		return record.Full(a)
	}
	return fmt.Sprintf("%s (%.5g %s)", record.Full(a), v, other)
}

// applies leaves out what this vehicle does not have.
func (c *clerk) applies(f figure) bool {
	word := func(id string) string { return c.car.Figures[id].Value.Text }
	switch f.ID {
	case "booster-gain":
		return word("booster") != "none"
	case "booster-diaphragm":
		return word("booster") == "" || word("booster") == "vacuum"
	}
	brake, fitted := builtAs(f.ID), word(axleOf(f.ID)+"-brake")
	return brake == "" || fitted == "" || brake == fitted
}

// next gives what is asked for next: what is open or typical, once a sitting.
func (c *clerk) next() string {
	if !c.named && !slices.Contains(c.past, theName) {
		return theName
	}
	for _, f := range c.figures {
		if c.applies(f) && c.state(f.ID) != stateKnown && !slices.Contains(c.past, f.ID) {
			return f.ID
		}
	}
	return ""
}

// converse asks until nothing is left, or until stop.
func (c *clerk) converse() error {
	id := c.next()
	if id == "" {
		var err error
		if id, err = c.choose(); err != nil {
			return err
		}
	}
	for id != "" {
		word, err := c.put(id)
		if err == nil && word == "" {
			err = c.save()
		}
		if err == nil {
			err = c.scr.Err()
		}
		switch {
		case err != nil:
			return err
		case word == ask.Stop:
			return errStopped
		case word == ask.Back && len(c.past) == 0:
			c.scr.Print(ask.Dim, "This is the first question.")
		case word == ask.Back:
			id = c.past[len(c.past)-1]
			c.past = c.past[:len(c.past)-1]
		case word == ask.Change:
			other, err := c.choose()
			if err != nil {
				return err
			}
			if other != "" {
				id = other
			}
		default:
			c.past = append(slices.DeleteFunc(c.past, func(p string) bool { return p == id }), id)
			id = c.next()
		}
	}
	return nil
}

// choose lists all that the file can hold and lets one be taken up.
func (c *clerk) choose() (string, error) {
	q := ask.Question{ID: "change", NoUnsure: true, Choices: []ask.Choice{{ID: theName, Say: "its name: " + c.car.Name}}}
	for _, f := range c.figures {
		if c.applies(f) {
			q.Choices = append(q.Choices, ask.Choice{ID: f.ID, Say: plainID(f.ID) + ": " + c.standing(f.ID)})
		}
	}
	q.Choices = append(q.Choices, ask.Choice{ID: "leave-it", Say: "Leave all as it is"})
	for {
		c.scr.Print(ask.Plain, "")
		c.scr.Print(ask.Strong, "Which do you want to change?")
		r, err := c.asker.Choose(q)
		switch {
		case err != nil:
			return "", err
		case r.Word == ask.Stop:
			return "", errStopped
		case r.Word == ask.Back || r.Word == "" && r.IDs[0] == "leave-it":
			return "", nil
		case r.Word == "":
			return r.IDs[0], nil
		}
		c.scr.Print(ask.Dim, "One of the list, back or stop.")
	}
}

// put asks for one thing until it is answered or a word leaves it.
func (c *clerk) put(id string) (ask.Word, error) {
	if id == theName {
		return c.putName()
	}
	f := c.figures[slices.IndexFunc(c.figures, func(f figure) bool { return f.ID == id })]
	c.head(f)
	switch {
	case f.words != nil:
		return c.putChoice(f)
	case f.Kind == unit.KindWord:
		return c.putWord(f)
	}
	return c.putNumber(f)
}

func (c *clerk) head(f figure) {
	if f.use == useBuild && !c.told[useBuild] {
		c.told[useBuild] = true
		c.scr.Print(ask.Plain, "")
		c.scr.Print(ask.Plain, "What follows serves calculations alone: bores, loads, radii. A check of the brakes does without it, so stop is a good answer here.")
	}
	c.scr.Print(ask.Plain, "")
	where := "Whole vehicle"
	if axle := axleOf(f.ID); axle != "" {
		where = upperFirst(axle) + " axle"
	}
	c.scr.Print(ask.Dim, where)
	c.scr.Print(ask.Strong, f.Ask)
	if f.words == nil {
		c.scr.Print(ask.Dim, f.Why)
	}
}

// stay puts a prompt until it is answered, or until a word leaves it.
func (c *clerk) stay(f figure, put func() (ask.Reply, error)) (ask.Reply, error) {
	for {
		r, err := put()
		if err != nil {
			return r, err
		}
		switch r.Word {
		case ask.Why:
			c.scr.Print(ask.Plain, f.Why)
			switch {
			case f.words != nil:
			case f.use == useLimit && f.typical():
				c.scr.Print(ask.Plain, "A check holds its readings against this figure. Where it is open, a usual range stands in, with its mark.")
			case f.use == useLimit:
				c.scr.Print(ask.Plain, "A check holds its readings against this figure. Where it is open, no limit is known.")
			default:
				c.scr.Print(ask.Plain, "Calculations use it. A check of the brakes does without.")
			}
		case ask.Steps:
			c.scr.Item(ask.Plain, "Where: ", f.Steps)
		case ask.Note:
			if err := c.note(f.ID, r.Text); err != nil {
				return r, err
			}
		default:
			return r, nil
		}
	}
}

func (c *clerk) note(id, text string) error {
	text = strings.Join(strings.Fields(text), " ")
	if err := record.CheckNote(text); err != nil {
		c.scr.Print(ask.Plain, "The note "+err.Error()+".")
		return nil
	}
	held := c.car.Figures[id]
	held.Note = text
	c.car.Figures[id] = held
	c.scr.Print(ask.Dim, "Noted.")
	return c.save()
}

// unsure leaves a figure open, or as typical as it was.
func (c *clerk) unsure(id string) {
	held := c.car.Figures[id]
	before := c.begun[id]
	if before.Source != record.Typical {
		before = record.Figure{}
	}
	held.Value, held.Source = before.Value, before.Source
	if c.car.Figures[id] = held; held.Open() {
		c.scr.Print(ask.Dim, "Left open. The file says where to look.")
	} else {
		c.scr.Print(ask.Dim, "Left at "+bothWays(held.Value)+", typical.")
	}
}

func (c *clerk) take(id string, value unit.Any, source string) {
	held := c.car.Figures[id]
	held.Value, held.Source = value, source
	c.car.Figures[id] = held
}

func (c *clerk) putName() (ask.Word, error) {
	c.scr.Print(ask.Plain, "")
	c.scr.Print(ask.Strong, "What do you call this vehicle?")
	f := figure{Figure: tree.Figure{
		Why:   "The name stands on every page of a check, so that two vehicles are not mixed up.",
		Steps: "Your own words: its colour, its year, what it is. No maker is needed."}}
	for {
		r, err := c.asker.Line(ask.Field{ID: theName, Current: c.car.Name, Check: func(s string) error {
			if err := record.CheckName(strings.Join(strings.Fields(s), " ")); err != nil {
				return fmt.Errorf("the name %w", err)
			}
			return nil
		}})
		switch {
		case err != nil:
			return "", err
		case r.Word == ask.Why:
			c.scr.Print(ask.Plain, f.Why)
		case r.Word == ask.Steps:
			c.scr.Print(ask.Plain, f.Steps)
		case r.Word == ask.Note:
			c.scr.Print(ask.Dim, "A note goes with a figure; the first one comes next.")
		case r.Word == ask.Unsure || r.Word == ask.Later:
			return "", nil
		case r.Word != "":
			return r.Word, nil
		default:
			c.car.Name = strings.Join(strings.Fields(r.Text), " ")
			return "", nil
		}
	}
}

// putChoice asks for a fact that a look tells.
func (c *clerk) putChoice(f figure) (ask.Word, error) {
	q := ask.Question{ID: f.ID, Choices: f.words}
	if held := c.car.Figures[f.ID]; !held.Open() {
		q.Current = []string{held.Value.Text}
	}
	r, err := c.stay(f, func() (ask.Reply, error) { return c.asker.Choose(q) })
	switch {
	case err != nil:
		return "", err
	case r.Word == ask.Unsure || r.Word == ask.Later:
		c.unsure(f.ID)
	case r.Word != "":
		return r.Word, nil
	default:
		c.take(f.ID, unit.Word(r.IDs[0]), record.Seen)
	}
	return "", nil
}

// putWord asks for a fact that is typed, as it stands on the part.
func (c *clerk) putWord(f figure) (ask.Word, error) {
	line := ask.Field{ID: f.ID, Check: func(s string) error { return f.check(strings.Join(strings.Fields(s), " ")) }}
	if held := c.car.Figures[f.ID]; !held.Open() {
		line.Current = held.Value.Text
	}
	r, err := c.stay(f, func() (ask.Reply, error) { return c.asker.Line(line) })
	switch {
	case err != nil:
		return "", err
	case r.Word == ask.Unsure || r.Word == ask.Later:
		c.unsure(f.ID)
	case r.Word != "":
		return r.Word, nil
	default:
		c.take(f.ID, unit.Word(strings.Join(strings.Fields(r.Text), " ")), record.Seen)
		c.scr.Print(ask.Dim, "Taken: "+c.car.Figures[f.ID].Value.Text)
	}
	return "", nil
}

// figureSources are the words for where a figure is from.
var figureSources = []ask.Choice{
	{ID: record.Cast, Say: "Cast or stamped on the part"},
	{ID: record.Manual, Say: "The manual of this vehicle"},
	{ID: record.Measured, Say: "Measured on it, or on a new part"},
	{ID: record.Typical, Say: "Typical, not of this vehicle"},
}

// putNumber asks for a figure and where it is from, in one line or in two.
func (c *clerk) putNumber(f figure) (ask.Word, error) {
	def := f.US
	if c.units == "metric" {
		def = f.Metric
	}
	slot := c.slots[slices.IndexFunc(c.slots, func(s record.Slot) bool { return s.ID == f.ID })]
	offer := slices.Clone(figureSources)
	if slot.NoTypical {
		offer = offer[:len(offer)-1]
	}
	parse := func(s string) (unit.Any, string, error) {
		a, source, err := splitFigure(&f.Figure, s, def, figureSources)
		if err == nil && source != "" {
			err = slot.Takes(a, source)
		}
		return a, source, err
	}
	line := ask.Field{ID: f.ID, Hint: def, Check: func(s string) error { _, _, err := parse(s); return err }}
	if held := c.car.Figures[f.ID]; !held.Open() {
		line.Current = record.Full(held.Value) + " " + held.Source
	}
	for {
		r, err := c.stay(f, func() (ask.Reply, error) { return c.asker.Line(line) })
		switch {
		case err != nil:
			return "", err
		case r.Word == ask.Unsure || r.Word == ask.Later:
			c.unsure(f.ID)
			return "", nil
		case r.Word != "":
			return r.Word, nil
		}
		a, source, err := parse(r.Text)
		if err != nil {
			return "", err
		}
		if source != "" {
			c.scr.Print(ask.Dim, "Taken: "+bothWays(a)+", "+source)
			c.take(f.ID, a, source)
			return "", nil
		}
		c.scr.Print(ask.Dim, "Taken: "+bothWays(a))
		c.scr.Print(ask.Strong, "Where is that figure from?")
		r, err = c.stay(f, func() (ask.Reply, error) {
			return c.asker.Choose(ask.Question{ID: f.ID + "-source", Choices: offer, NoUnsure: true})
		})
		switch {
		case err != nil:
			return "", err
		case r.Word == ask.Back: // to the figure itself
			continue
		case r.Word != "":
			return r.Word, nil
		}
		c.take(f.ID, a, r.IDs[0])
		return "", nil
	}
}

// save writes the file: what is known, and what is open on such a vehicle.
func (c *clerk) save() error {
	var slots []record.Slot
	for i, f := range c.figures {
		if c.applies(f) || c.car.Has(f.ID) {
			slots = append(slots, c.slots[i])
		}
	}
	moved, err := c.file.SaveVehicle(c.car, slots)
	if err == nil && moved != "" {
		c.scr.Print(ask.Care, "Another program changed the file, so this one goes on in "+moved+".")
	}
	return err
}

// finish says what the file knows, what in it cannot be right, and what it is
// good for.
func (c *clerk) finish(page *ask.Screen) error {
	page.Print(ask.Plain, "")
	name := c.car.Name
	if name == "" {
		name = "The vehicle has no name yet"
	}
	page.Print(ask.Strong, upperFirst(name))
	page.Print(ask.Plain, fmt.Sprintf("%d known, %d typical, %d open.", c.count(stateKnown), c.count(stateTypical), c.count(stateOpen)))
	if c.count(stateTypical) > 0 {
		page.Print(ask.Care, "A typical figure belongs to no vehicle. Replace it before anything rests on it.")
	}
	for _, odd := range vehicleOf(c.car).Oddities() {
		page.Item(ask.Care, "Mind: ", odd)
	}
	page.Print(ask.Plain, "")
	page.Print(ask.Plain, "The file is "+c.file.Path)
	page.Print(ask.Plain, "A check takes its limits from it with:")
	page.Print(ask.Plain, "  chock talk --vehicle "+filepath.Base(c.file.Path))
	return page.Err()
}
