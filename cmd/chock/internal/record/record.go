// Package record keeps what a check came to: one YAML file that a person can
// read, that stands alone without the book, and that is replaced whole after
// every answer.
package record

import "time"

// Schema counts the changes of a record's shape. Older shapes are read for
// ever; a newer one is refused.
const Schema = 1

// A Record is one check of one vehicle. The answers are the state; all below
// them is worked out from them and kept so that report, compare and history
// never open the book.
type Record struct {
	Schema     int         `yaml:"schema"`
	Program    string      `yaml:"program"` // chock and its version
	Notice     string      `yaml:"notice"`  // owner's record, not a certificate
	Started    time.Time   `yaml:"started"`
	Saved      time.Time   `yaml:"saved"`
	Finished   bool        `yaml:"finished"`
	Vehicle    string      `yaml:"vehicle,omitempty"`
	Odometer   *Reading    `yaml:"odometer,omitempty"`
	Units      string      `yaml:"units"` // us or metric
	Complaints []Complaint `yaml:"complaints"`
	Answers    []Answer    `yaml:"answers"` // as said, in order; a later one stands in place of an earlier
	Notes      []Note      `yaml:"notes,omitempty"`

	Drive        string        `yaml:"drive"`  // go care stop
	Advice       string        `yaml:"advice"` // the words of it
	Reason       string        `yaml:"reason"` // in one line
	Headline     string        `yaml:"headline"`
	Findings     []Finding     `yaml:"findings"`
	NotExplained []Line        `yaml:"not-explained,omitempty"`
	NotChecked   []Unchecked   `yaml:"not-checked,omitempty"`
	SetAside     []Line        `yaml:"set-aside,omitempty"`
	Changed      []Changed     `yaml:"changed,omitempty"`
	Measurements []Measurement `yaml:"measurements,omitempty"`
	Computed     []Measurement `yaml:"computed,omitempty"` // from the vehicle file; explains, and finds nothing
	Caution      []string      `yaml:"caution"`            // of this work
	Verify       string        `yaml:"verify"`
	HandOver     []string      `yaml:"hand-over,omitempty"`
	Sets         []string      `yaml:"sets,omitempty"`
	Torque       []string      `yaml:"torque,omitempty"` // fasteners; the figures come from the manual
	Recheck      []string      `yaml:"recheck,omitempty"`
	Trip         []Day         `yaml:"trip,omitempty"` // what to do when, around a trip
	Warnings     []string      `yaml:"warnings,omitempty"`
	Sources      []string      `yaml:"sources,omitempty"`
	End          string        `yaml:"end"` // the last line: chock
}

type Complaint struct {
	ID     string `yaml:"id"`
	Say    string `yaml:"say"`
	Opened bool   `yaml:"opened,omitempty"` // by an answer, not named by the person
}

// An Answer is one thing said: to a question, by readings, or a figure.
type Answer struct {
	ID       string    `yaml:"id"`
	Wheel    string    `yaml:"wheel,omitempty"`
	Asked    string    `yaml:"asked"`             // the words of the question
	Answer   []string  `yaml:"answer,omitempty"`  // ids; unsure; later
	Several  bool      `yaml:"several,omitempty"` // the question lets several be ticked
	Said     []string  `yaml:"said,omitempty"`    // the words of the answer
	Kind     string    `yaml:"unsure,omitempty"`  // did-not-look cannot-tell cannot-reach
	Readings []Reading `yaml:"readings,omitempty"`
	Figure   *Reading  `yaml:"figure,omitempty"`
	Origin   string    `yaml:"origin,omitempty"` // cast manual measured ...; "from the vehicle file: manual"
}

// A Reading is what was typed. Typed with Unit as the default unit is parsed
// to the same bits again; Value is in Unit.
type Reading struct {
	Input string   `yaml:"input,omitempty"`
	Typed string   `yaml:"typed"`
	Kind  string   `yaml:"kind"`
	Unit  string   `yaml:"unit"`
	Value *float64 `yaml:"value"` // nil for a missing position
}

type Note struct {
	ID    string `yaml:"id,omitempty"`
	Wheel string `yaml:"wheel,omitempty"`
	Text  string `yaml:"text"`
}

type Finding struct {
	Cause    string   `yaml:"cause"`
	Say      string   `yaml:"say"`
	Part     string   `yaml:"part,omitempty"`
	Standing string   `yaml:"standing"` // found mended likely possible unlikely
	Wheels   []string `yaml:"wheels,omitempty"`
	For      []Line   `yaml:"for,omitempty"`
	Against  []Line   `yaml:"against,omitempty"`
	Disagree bool     `yaml:"disagree,omitempty"`
	About    int      `yaml:"about-in-100,omitempty"` // by the book's estimates; 0 where it was not weighed
	From     []Origin `yaml:"comes-from,omitempty"`
	Drive    string   `yaml:"drive"`
	Do       []string `yaml:"do,omitempty"`
	Caution  string   `yaml:"caution,omitempty"`
	Verify   string   `yaml:"verify,omitempty"`
	Mark     string   `yaml:"mark,omitempty"`
	Source   string   `yaml:"source,omitempty"`
}

// An Origin is another finding that can have brought this one about.
type Origin struct {
	Cause   string `yaml:"cause"`
	Say     string `yaml:"say"`
	Because string `yaml:"because"`
}

// A Day is what to do by a day, or on it.
type Day struct {
	When  string   `yaml:"when"`
	Items []string `yaml:"items"`
}

// A Line is an answer in words.
type Line struct {
	ID     string `yaml:"id"`
	Wheel  string `yaml:"wheel,omitempty"`
	Answer string `yaml:"answer,omitempty"`
	Say    string `yaml:"say"`
	How    string `yaml:"how,omitempty"` // seen measured told
}

type Unchecked struct {
	Kind      string `yaml:"kind"` // cause wheel question
	ID        string `yaml:"id"`
	Wheel     string `yaml:"wheel,omitempty"`
	Say       string `yaml:"say"`
	Why       string `yaml:"why,omitempty"` // did not look; waits for the first looks; ...
	Dangerous bool   `yaml:"dangerous,omitempty"`
}

// Changed is an answer that said stop and was corrected later.
type Changed struct {
	ID    string `yaml:"id"`
	Wheel string `yaml:"wheel,omitempty"`
	First string `yaml:"first"`
	Now   string `yaml:"now"`
}

type Measurement struct {
	ID          string    `yaml:"id"`
	Say         string    `yaml:"say"`
	Wheel       string    `yaml:"wheel,omitempty"`
	Calculation string    `yaml:"calculation"`
	Readings    []Reading `yaml:"readings"`
	Results     []Result  `yaml:"results,omitempty"`
	Outcomes    []string  `yaml:"outcomes"`
	Verdicts    []Verdict `yaml:"verdicts,omitempty"`
	Lines       []string  `yaml:"lines,omitempty"` // plain-language lines
	Steps       []string  `yaml:"steps,omitempty"` // the arithmetic
}

// A Result is one computed number; nil is unknown.
// It may be a group of results, or a list of groups, in place of a number.
type Result struct {
	Key   string     `yaml:"key"`
	Value *float64   `yaml:"value"`
	Group []Result   `yaml:"group,omitempty"`
	List  [][]Result `yaml:"list,omitempty"`
}

type Verdict struct {
	Of      string   `yaml:"of"`
	Verdict string   `yaml:"verdict"`
	Value   *float64 `yaml:"value"`
	Limit   *float64 `yaml:"limit"`
	Good    *float64 `yaml:"good,omitempty"` // of a range of limits, the end up to which it is within
	Doubt   *float64 `yaml:"doubt"`
	Unit    string   `yaml:"unit"`
	Mark    string   `yaml:"mark,omitempty"`
	Source  string   `yaml:"source,omitempty"`
}
