// Package tree reads decision trees for guided checks and walks them answer
// by answer.
//
// A book is a folder of YAML files: complaints, each with a tree of steps;
// the questions and measurements that the steps ask; the causes that they
// lead to. [Open] parses a book, [Book.Prove] refuses one that could strand
// the person using it: a missing target, a loop, a step nobody can reach, a
// cause without a caution. [Book.Walk] is a pure function of the book and a
// list of answers: where the talk stands, what comes next. [Book.Assess]
// says what the same answers come to: findings, drive advice, what was not
// checked.
//
// The package knows no terminal, no clock and no brakes: calculations come
// to it as names with inputs and outcomes, without their functions. The
// language is described in docs/tree-language.md.
package tree

import (
	"slices"

	"chock/brakes/unit"
)

// A Place is where a check is done.
type Place string

const (
	Recall   Place = "recall"
	Seat     Place = "seat"
	Bonnet   Place = "bonnet"
	Ground   Place = "ground"
	Corner   Place = "corner"
	WheelOff Place = "wheel-off"
	DrumOff  Place = "drum-off"
	Yard     Place = "yard"
	Road     Place = "road"
)

// Places in the order in which hands and eyes come to them.
var Places = []Place{Recall, Seat, Bonnet, Ground, Corner, WheelOff, DrumOff, Yard, Road}

// Wheels in their one fixed order, as seen from the driver's seat.
var Wheels = []string{"front-left", "front-right", "rear-left", "rear-right"}

// wheelsAt gives the wheels that an `at:` word means.
var wheelsAt = map[string][]string{
	"front": Wheels[:2], "rear": Wheels[2:], "all": Wheels,
}

// A Drive is an advice about driving on; the larger is the stricter.
type Drive int

const (
	Go Drive = iota
	Care
	Stop
)

func (d Drive) String() string { return [...]string{"go", "care", "stop"}[d] }

// MarshalText writes the word that records and JSON carry.
func (d Drive) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// The answers that every check takes beside its own.
const (
	Unsure = "unsure"
	Later  = "later"
)

// A Book is a parsed folder of trees.
type Book struct {
	Complaints []*Complaint          // in the order in which their trees are walked
	Looks      []Look                // first looks, in order
	Checks     map[string]*Check     // questions and measurements by id
	Figures    map[string]*Figure    // by id
	Causes     []*Cause              // in the order of causes.yaml
	Reach      map[Place]int         // minutes to get to a place
	Cautions   map[Place]string      // said on arriving at a place
	Sources    map[string]string     // documents that causes cite
	Healthy    int                   // of a hundred vehicles that are brought, how many have nothing wrong
	NotListed  int                   // and how many have what is not on this list
	causes     map[string]*Cause     // by id
	complaints map[string]*Complaint // by id
	calcs      map[string]Calculation
	clearing   map[string][]*Check // checks that can clear a cause
	picker     *Check              // the question with picks: wheel, if any
	faults     *faults
	sourceAt   map[string]Pos
	unread     bool // a file could not be read at all
	size       int  // of the files read
	evidence   *evidence
}

// A Complaint is what a vehicle is said to do, with its tree.
type Complaint struct {
	ID, Say, Short string
	Words, Hints   []string // that people use for it: that name it, and that tell it from others
	Fits           []Fit    // how often a vehicle with that cause is brought with this complaint
	Else           Often
	Round          bool // a round of checks, and nothing that the vehicle does
	Begin          string
	Steps          []*Step // as written
	steps          map[string]*Step
	at             Pos
	beginAt        Pos
}

// A Look is one of the first looks.
type Look struct {
	Check   string
	Because string
	at      Pos
}

// A Step is a place in a complaint's tree.
type Step struct {
	ID       string
	Check    string // what it asks; the ID unless the step branches again
	Because  string
	Then     map[string]Target // by answer id, and Unsure
	Covers   []string          // answers that `otherwise` stood for
	Again    bool              // written with ask:
	at       Pos
	then     *thenNode
	reasoned bool // because was given
}

// A Target is where an answer leads: a step, or an end.
type Target struct {
	Step string
	End  *End
}

// An End closes a tree and names causes.
type End struct {
	Likely, Possible []string
	at               Pos
}

// A Check is a question or, with Measure, a measurement.
type Check struct {
	ID             string
	Place          Place
	Look           Place // Yard or Road in a first look that bars them
	Minutes        int   // for one wheel
	Ask, Why       string
	Steps, Without string
	Alone          string
	At             string // front rear all named, or empty
	OnlyIf, Needs  []Cond
	Several        bool
	Picks          bool
	Like           string
	Answers        []*Answer // or outcomes; worst first
	UnsureDrive    Drive
	Measure        string
	Inputs         []*Input
	Complaint      string // whose file it stands in; empty for shared and first
	SameAs         string // a check that says nearly the same
	sameAt         Pos
	at             Pos
	firstNormal    int
	inputs         func() // reads the inputs of a measurement like another
	isQuestion     bool
	broken         bool // some of its answers could not be read
}

// An Answer is one of the answers of a question or outcomes of a measurement.
type Answer struct {
	ID, Say                string
	Shows, Clears, Mended  []string
	Drive                  Drive
	Fails, Normal          bool
	Opens                  []string
	Fits                   []Fit // causes of which it is evidence
	Else                   Often // for the others
	at                     Pos
	showsAt, clearsAt, mAt Pos
	opensAt                Pos
}

// A Cond holds when the question was given one of the answers.
type Cond struct {
	Question string
	Answers  []string
	Sure     bool // "not sure" counts as not holding: another check stands in for this one
	at       Pos
}

// An Input is one input of a measurement.
type Input struct {
	Name       string
	Say        string
	Least      int // readings to take; 0 for a figure or a from
	Most       int
	US, Metric string // unit of a bare number
	Low, High  float64
	Between    string
	Optional   bool
	Figure     string // id of the figure
	From       string // check, or check.input
	at         Pos
}

// Unit gives the unit that a bare number takes, by system ("us" or "metric").
func (in *Input) Unit(system string) string {
	if system == "metric" {
		return in.Metric
	}
	return in.US
}

// A Figure is a number that belongs to the vehicle, asked once.
type Figure struct {
	ID         string
	Ask, Why   string
	Steps      string
	Kind       unit.Kind
	US, Metric string
	Low, High  float64
	Between    string
	at         Pos
}

// A Cause is something that can be wrong with the vehicle.
type Cause struct {
	ID, Say, Part   string
	Drive           Drive
	Do, Sets        []string
	Torque, Recheck []string
	Caution, Verify string
	OnlyIf, OrIf    []Cond // vehicles that can have it: one or the other
	ComesFrom       []Origin
	Source          Source
	Common          int // how common it is beside the others, on one scale of the book's own
	at, sourceAt    Pos
	orIfAt          Pos
}

// An Origin is a cause that can bring another one about, and how.
type Origin struct {
	Cause, Because string
	at             Pos
}

// A Source says how a cause is known: published or memory with a Key into
// the book's sources, or practice or estimate without.
type Source struct{ Mark, Key string }

// A Calculation is what a measurement can be judged by, as the program
// offers it: exactly one outcome of each limit comes back.
type Calculation struct {
	Name   string
	Inputs []CalcInput
	Limits []CalcLimit
}

// A CalcInput is one input of a calculation.
type CalcInput struct {
	Name     string
	Kind     unit.Kind
	List     bool
	Figure   bool
	Optional bool
}

// A CalcLimit is one thing a calculation judges, outcomes worst first.
type CalcLimit struct {
	ID       string
	Outcomes []string
}

// Cause gives the cause with that id, or nil.
func (b *Book) Cause(id string) *Cause { return b.causes[id] }

// Complaint gives the complaint with that id, or nil.
func (b *Book) Complaint(id string) *Complaint { return b.complaints[id] }

// Calculation gives the declaration that a measurement is judged by.
func (b *Book) Calculation(name string) (Calculation, bool) {
	c, ok := b.calcs[name]
	return c, ok
}

// Answer gives the answer with that id, or nil.
func (c *Check) Answer(id string) *Answer {
	for _, a := range c.Answers {
		if a.ID == id {
			return a
		}
	}
	return nil
}

// Input gives the input with that name, or nil.
func (c *Check) Input(name string) *Input {
	for _, in := range c.Inputs {
		if in.Name == name {
			return in
		}
	}
	return nil
}

// word makes an answer a word that knows its place among the answers.
func (c *Check) word(id string) unit.Any {
	a := unit.Word(id)
	a.SI = float64(slices.Index(c.ids(), id)) // -1 for unsure
	return a
}

// ids gives the answers by id.
func (c *Check) ids() []string {
	var out []string
	for _, a := range c.Answers {
		out = append(out, a.ID)
	}
	return out
}

// rank orders answers from the worst; Unsure stands just before the normal
// ones, so that a wheel nobody could judge outranks a sound one.
func (c *Check) rank(id string) int {
	if id == Unsure || id == Later {
		return 2*c.firstNormal - 1
	}
	for i, a := range c.Answers {
		if a.ID == id {
			return 2 * i
		}
	}
	return 2 * len(c.Answers)
}

// Computed reports whether c is a measurement whose inputs all come from
// other checks, so that it is never asked.
func (c *Check) Computed() bool {
	if c.Measure == "" {
		return false
	}
	for _, in := range c.Inputs {
		if in.From == "" && in.Figure == "" {
			return false
		}
	}
	return true
}
