package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"chock/brakes/unit"
)

// VehicleSchema counts the changes of a vehicle file's shape.
const VehicleSchema = 1

// vehicleLimit bounds a vehicle file: a person can read it.
const vehicleLimit = 1 << 20

// The most that a name and a note may hold, in runes: a name stands in one
// line of every page.
const (
	longestName = 80
	longestNote = 400
)

// Where the figures of a vehicle file can be from. Seen is for a fact that a
// look tells, such as disc or drum; Typical is of no vehicle.
const (
	Cast     = "cast"
	Manual   = "manual"
	Measured = "measured"
	Typical  = "typical"
	Seen     = "seen"
)

// A Slot is the room that a vehicle file has for one figure.
type Slot struct {
	ID        string // front-rotor-discard stands as rotor-discard below front
	Kind      unit.Kind
	Words     []string           // of a word: what it can be; nil where Check says it
	Check     func(string) error // of a word without Words
	Low, High float64            // of a number: the plausible window
	NoTypical bool               // a typical figure must not stand for it
	Say       string             // what it is: the comment above it
	Find      string             // where to look it up: the comment while it is open
}

// sections are the parts of a vehicle file, as they stand in it.
var sections = []struct{ name, say string }{
	{"whole", "The vehicle as a whole."},
	{"front", "The front axle."},
	{"rear", "The rear axle."},
}

// place gives the section of a slot and its name there.
func (s Slot) place() (section, name string) {
	for _, sec := range sections[1:] {
		if name, ok := strings.CutPrefix(s.ID, sec.name+"-"); ok {
			return sec.name, name
		}
	}
	return sections[0].name, s.ID
}

// Takes says why a value from a source cannot stand in s, or nil.
func (s Slot) Takes(value unit.Any, source string) error {
	sources := []string{Cast, Manual, Measured}
	if !s.NoTypical {
		sources = append(sources, Typical)
	}
	if s.Kind == unit.KindWord {
		sources = append(sources, Seen)
	}
	switch {
	case source == Typical && s.NoTypical:
		return errors.New("a typical figure cannot stand for a wear limit, which belongs to the part alone: " +
			"give the figure cast on it or the manual's, or leave it open")
	case !slices.Contains(sources, source):
		return fmt.Errorf("source is %q; want one of %s", source, strings.Join(sources, ", "))
	}
	if s.Kind != unit.KindWord {
		if hint := unit.Suggest(value, s.Low, s.High); hint != "" {
			return errors.New(hint)
		}
		return nil
	}
	if s.Words != nil && !slices.Contains(s.Words, value.Text) {
		return fmt.Errorf("%q is none of %s", value.Text, strings.Join(s.Words, ", "))
	}
	if s.Check != nil {
		return s.Check(value.Text)
	}
	return nil
}

// A Figure is one figure of a vehicle, as its file holds it.
type Figure struct {
	Value  unit.Any // its Kind is "" while the figure is open
	Source string
	Note   string
}

// Open reports that nobody knows the figure yet.
func (f Figure) Open() bool { return f.Value.Kind == "" }

// A Vehicle is a vehicle file: the figures that belong to one vehicle, by the
// ids of their slots.
type Vehicle struct {
	Name    string // in its owner's words; "" while open
	Figures map[string]Figure

	// comments are the person's own, by what they stand above: "front",
	// "front rotor-discard", or "" for the file. chock's begin with #:.
	comments map[string][]string
}

// Has reports that the file says something at id: a figure, a note, or a
// comment of the person's own.
func (v *Vehicle) Has(id string) bool {
	section, name := Slot{ID: id}.place()
	return v.Figures[id] != (Figure{}) || len(v.comments[section+" "+name]) > 0
}

// Typical counts the figures that are of no vehicle.
func (v *Vehicle) Typical() int {
	n := 0
	for _, f := range v.Figures {
		if f.Source == Typical {
			n++
		}
	}
	return n
}

// CheckName refuses a name that a page could not show in a line.
func CheckName(s string) error { return checkText(s, longestName) }

// CheckNote does the same for a note.
func CheckNote(s string) error { return checkText(s, longestNote) }

func checkText(s string, most int) error {
	switch {
	case strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) || r == utf8.RuneError }):
		return errors.New("holds a character that cannot be shown; write it in plain letters, on one line")
	case utf8.RuneCountInString(s) > most:
		return fmt.Errorf("is longer than %d letters; shorten it", most)
	}
	return nil
}

// LoadVehicle reads the vehicle file at path.
func LoadVehicle(path string, slots []Slot) (*Vehicle, error) {
	data, err := read(path, vehicleLimit)
	if err != nil {
		return nil, err
	}
	return ParseVehicle(path, data, slots)
}

// OpenVehicle takes up the vehicle file at path. Where there is none, v is nil
// and the file is begun by the first save.
func OpenVehicle(path string, slots []Slot) (f *File, v *Vehicle, err error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		f, err = Create(path)
		return f, nil, err
	}
	data, err := read(path, vehicleLimit)
	if err != nil {
		return nil, nil, err
	}
	if v, err = ParseVehicle(path, data, slots); err != nil {
		return nil, nil, err
	}
	// A rename would put a file in the place of a symbolic link.
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if path, err = filepath.Abs(path); err != nil {
		return nil, nil, err
	}
	return &File{Path: path, base: path, n: 1, last: data}, v, nil
}

// SaveVehicle replaces the file by v, as Save does for a record. Of slots it
// takes those that v has something for, and those that are to stand open.
func (f *File) SaveVehicle(v *Vehicle, slots []Slot) (moved string, err error) {
	return f.put(encodeVehicle(v, slots))
}

// ParseVehicle reads a vehicle file. path is for its errors, each of which
// names the line and the repair.
func ParseVehicle(path string, data []byte, slots []Slot) (*Vehicle, error) {
	if err := vehicleHeader(path, data); err != nil {
		return nil, err
	}
	root, err := one(path, data)
	if err != nil {
		return nil, err
	}
	p := vehicleParser{path: path, v: &Vehicle{Figures: map[string]Figure{}, comments: map[string][]string{}}}
	if err := p.root(root, slots); err != nil {
		return nil, err
	}
	return p.v, nil
}

// vehicleHeader tells by the lines of a file what it is and whether it is
// whole, before YAML is asked.
func vehicleHeader(path string, data []byte) error {
	if len(bytes.TrimSpace(data)) == 0 {
		return fmt.Errorf("%s is empty: use an earlier copy, or delete it and begin anew", path)
	}
	if _, record := header(data); record {
		return fmt.Errorf("%s is the record of a check, not a vehicle file; name the file that chock vehicle wrote", path)
	}
	last, err := lastLine(path, data)
	if err != nil {
		return err
	}
	m := schemaLine().FindSubmatch(data)
	switch {
	case m == nil:
		return fmt.Errorf("%s is not a vehicle file of chock: it has no line schema: %d; begin one with chock vehicle FILE", path, VehicleSchema)
	case string(m[1]) != fmt.Sprint(VehicleSchema):
		return fmt.Errorf("%s has vehicle schema %s, and this chock reads %d; if a newer chock wrote it, install that one to read it", path, m[1], VehicleSchema)
	case last != endLine:
		return fmt.Errorf("%s is cut short: its last line is not %q; use an earlier copy, or, if nothing is missing, add that line", path, endLine)
	}
	return nil
}

// lastLine is the last line of a file that is no comment. A line with a
// character that cannot be shown is refused.
func lastLine(path string, data []byte) (last string, err error) {
	number := 0
	for line := range bytes.Lines(data) {
		number++
		text := strings.TrimRight(string(line), "\r\n")
		if i := strings.IndexFunc(text, func(r rune) bool { return r == utf8.RuneError || unicode.IsControl(r) && r != '\t' }); i >= 0 {
			r, _ := utf8.DecodeRuneInString(text[i:])
			return "", fmt.Errorf("%s:%d: a character stands there that cannot be shown (%#x); type that line anew", path, number, r)
		}
		if t := strings.TrimSpace(text); t != "" && t[0] != '#' {
			last = strings.TrimRight(text, " \t")
		}
	}
	return last, nil
}

type vehicleParser struct {
	path string
	v    *Vehicle
}

func (p *vehicleParser) errorf(n *yaml.Node, format string, args ...any) error {
	return fmt.Errorf("%s:%d: %s", p.path, n.Line, fmt.Sprintf(format, args...))
}

// keep takes over the comments that the person wrote at n.
func (p *vehicleParser) keep(place string, nodes ...*yaml.Node) {
	for _, n := range nodes {
		for _, text := range []string{n.HeadComment, n.LineComment, n.FootComment} {
			for line := range strings.Lines(text) {
				if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#:") {
					p.v.comments[place] = append(p.v.comments[place], line)
				}
			}
		}
	}
}

func (p *vehicleParser) root(root *yaml.Node, slots []Slot) error {
	names := []string{"schema", "vehicle"}
	for _, s := range sections {
		names = append(names, s.name)
	}
	names = append(names, "end")
	p.keep("schema", &yaml.Node{HeadComment: root.HeadComment})
	for i := 0; i < len(root.Content); i += 2 {
		key, n := root.Content[i], root.Content[i+1]
		switch {
		case !slices.Contains(names, key.Value):
			return p.errorf(key, "%q has no place there; the file takes %s", key.Value, strings.Join(names, ", "))
		case key.Value == "vehicle":
			name, err := p.text(n, "vehicle", longestName)
			if err != nil {
				return err
			}
			p.v.Name = name
			p.keep("vehicle", key, n)
		case key.Value == "schema" || key.Value == "end":
			p.keep(key.Value, key, n)
		default:
			if err := p.section(key, n, slots); err != nil {
				return err
			}
		}
	}
	p.keep("end", &yaml.Node{FootComment: root.FootComment})
	return nil
}

func (p *vehicleParser) section(key, n *yaml.Node, slots []Slot) error {
	p.keep(key.Value, key, n)
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return nil
	}
	if n.Kind != yaml.MappingNode {
		return p.errorf(n, "%s: want figures below it, each with its name", key.Value)
	}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		var names []string
		at := slices.IndexFunc(slots, func(s Slot) bool {
			section, name := s.place()
			if section == key.Value {
				names = append(names, name)
			}
			return section == key.Value && name == k.Value
		})
		if at < 0 {
			return p.errorf(k, "%s takes no figure %q; it takes %s", key.Value, k.Value, strings.Join(names, ", "))
		}
		f, err := p.figure(key.Value, k, v, slots[at])
		if err != nil {
			return err
		}
		if f != (Figure{}) {
			p.v.Figures[slots[at].ID] = f
		}
	}
	return nil
}

// figure reads one figure; what is left empty is open.
func (p *vehicleParser) figure(section string, key, n *yaml.Node, s Slot) (f Figure, err error) {
	place := section + " " + key.Value
	p.keep(place, key, n)
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return f, nil
	}
	if n.Kind != yaml.MappingNode {
		return f, p.errorf(n, "%s, %s: want two lines below it, like value: %s and source: cast", section, key.Value, s.example())
	}
	var value string
	at, from := n, n
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		p.keep(place, k, v)
		name := section + ", " + key.Value + ", " + k.Value
		switch k.Value {
		case "value":
			value, err = p.text(v, name, longestNote)
			at = v
		case "source":
			f.Source, err = p.text(v, name, longestNote)
			from = v
		case "note":
			f.Note, err = p.text(v, name, longestNote)
		default:
			err = p.errorf(k, "%s, %s: %q has no place there; a figure takes value, source and note; a comma inside {} parts entries, so quote words that have one", section, key.Value, k.Value)
		}
		if err != nil {
			return Figure{}, err
		}
	}
	name := section + ", " + key.Value
	switch {
	case value == "" && f.Source == "":
		return f, nil
	case value == "":
		return f, p.errorf(from, "%s: a source without a value; give the value, or take the source out", name)
	case f.Source == "" && s.Kind == unit.KindWord:
		f.Source = Seen
	case f.Source == "":
		return f, p.errorf(at, "%s: a value without its source; add source: cast, manual, measured or typical", name)
	}
	if f.Value, err = unit.Parse(s.Kind, value, ""); err != nil {
		return f, p.errorf(at, "%s: %v", name, err)
	}
	if err := s.Takes(f.Value, f.Source); err != nil {
		if f.Source == Typical && s.NoTypical || strings.HasPrefix(err.Error(), "source is") {
			at = from
		}
		return f, p.errorf(at, "%s: %v", name, err)
	}
	return f, nil
}

// text reads one line of words.
func (p *vehicleParser) text(n *yaml.Node, name string, most int) (string, error) {
	if n.Kind != yaml.ScalarNode {
		return "", p.errorf(n, "%s: want it in one line", name)
	}
	if n.Tag == "!!null" {
		return "", nil
	}
	text := strings.Join(strings.Fields(n.Value), " ")
	if err := checkText(text, most); err != nil {
		return "", p.errorf(n, "%s %v", name, err)
	}
	return text, nil
}

// example is a value as one would write it.
func (s Slot) example() string {
	switch {
	case len(s.Words) > 0:
		return s.Words[0]
	case s.Kind == unit.KindWord:
		return "235/75R15"
	case s.Kind == unit.KindMass:
		return "2600 lb"
	case s.Kind == unit.KindLength:
		return "1.12 in"
	}
	return "2"
}

const vehicleHead = `The figures of one vehicle, for chock. Let "chock vehicle FILE" ask for what is open, or write here with any editor. A figure is what you read, with its unit, and where it is from:

  rotor-discard:
    value: 1.12 in
    source: cast
    note: inside of the hat, May

source is cast (cast or stamped on the part), manual, measured, or typical (of no vehicle; never for a wear limit). What is simply seen, such as disc or drum, may say seen. A note is free.
Lines that begin with #: are chock's and are written anew each time; your own lines that begin with # stay.`

const inventedHead = `INVENTED: the figures marked typical belong to no vehicle. They were made up so that there is something to start from. Replace each with the figure of this vehicle, or empty it; nothing that matters may rest on them.`

// encodeVehicle writes v so that a person can read and change it, and
// ParseVehicle gives it back.
func encodeVehicle(v *Vehicle, slots []Slot) []byte {
	var b bytes.Buffer
	own := func(indent, place string) {
		for _, line := range v.comments[place] {
			b.WriteString(indent + line + "\n")
		}
	}
	if v.Typical() > 0 {
		remark(&b, "", inventedHead)
		remark(&b, "", "\n")
	}
	remark(&b, "", vehicleHead)
	own("", "schema")
	fmt.Fprintf(&b, "schema: %d\n", VehicleSchema)
	remark(&b, "", "What you call it, in your own words.")
	own("", "vehicle")
	field(&b, "vehicle", v.Name)
	for _, sec := range sections {
		b.WriteByte('\n')
		remark(&b, "", sec.say)
		own("", sec.name)
		b.WriteString(sec.name + ":\n")
		for _, s := range slots {
			section, name := s.place()
			if section != sec.name {
				continue
			}
			f := v.Figures[s.ID]
			say := s.Say
			if f.Open() {
				say += " " + s.Find
			}
			remark(&b, "  ", say)
			own("  ", sec.name+" "+name)
			b.WriteString("  " + name + ":\n")
			if !f.Open() {
				field(&b, "    value", Full(f.Value))
				field(&b, "    source", f.Source)
			}
			if f.Note != "" {
				field(&b, "    note", f.Note)
			}
		}
	}
	b.WriteByte('\n')
	own("", "end")
	b.WriteString(endLine + "\n")
	return b.Bytes()
}

// Full gives a figure as typed, with the unit that a bare number was taken in.
func Full(a unit.Any) string {
	if _, err := unit.Parse(a.Kind, a.Text, ""); err != nil {
		return a.Text + " " + a.Unit
	}
	return a.Text
}

// remark writes text as comment lines of chock's own.
func remark(b *bytes.Buffer, indent, text string) {
	const width = 76
	for para := range strings.SplitSeq(strings.TrimSuffix(text, "\n"), "\n") {
		if strings.HasPrefix(para, " ") || para == "" {
			b.WriteString(strings.TrimRight(indent+"#: "+para, " ") + "\n")
			continue
		}
		line := indent + "#:"
		for word := range strings.FieldsSeq(para) {
			if utf8.RuneCountInString(line+" "+word) > width && line != indent+"#:" {
				b.WriteString(line + "\n")
				line = indent + "#:"
			}
			line += " " + word
		}
		b.WriteString(line + "\n")
	}
}

// field writes KEY: VALUE, the value bare where YAML reads it as it stands.
func field(b *bytes.Buffer, key, value string) {
	if value == "" {
		b.WriteString(key + ":\n")
		return
	}
	line := key + ": " + value
	var doc yaml.Node
	err := yaml.Unmarshal([]byte(line), &doc)
	bare := err == nil && doc.Kind == yaml.DocumentNode && doc.Content[0].Kind == yaml.MappingNode && len(doc.Content[0].Content) == 2
	if bare {
		n := doc.Content[0].Content[1]
		bare = n.Kind == yaml.ScalarNode && n.Style == 0 && n.Anchor == "" && n.Value == value &&
			n.LineComment == "" && n.Tag != "!!null" && (n.Tag != "!!float" || finite(n.Value))
	}
	if !bare {
		line = key + ": " + quoted(value)
	}
	b.WriteString(line + "\n")
}

// quoted puts text that can be shown between double quotes.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
