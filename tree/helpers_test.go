package tree_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"chock/brakes/unit"
	"chock/tree"
)

// calcs are the calculations that the test books use. They stand in for the
// program's own, whose table lies beyond what this package may import; the
// first eight are declared like those that the embedded book names.
var calcs = []tree.Calculation{
	{Name: "rotor-thickness", Inputs: []tree.CalcInput{
		{Name: "thickness", Kind: unit.KindLength, List: true},
		limit("discard"), limit("machine-to"), limit("variation-limit"), gaugeError,
	}, Limits: []tree.CalcLimit{
		{ID: "discard", Outcomes: []string{"below-discard", "discard-too-close", "above-discard", "discard-unknown"}},
		{ID: "variation", Outcomes: []string{"varies", "variation-too-close", "even"}},
		{ID: "refinish", Outcomes: []string{"no-stock-to-cut", "stock-too-close", "stock-to-cut", "stock-unknown"}},
	}},
	{Name: "rotor-runout", Inputs: []tree.CalcInput{
		{Name: "dial", Kind: unit.KindLength, List: true},
		{Name: "closing", Kind: unit.KindLength, Optional: true},
		limit("runout-limit"), gaugeError,
		{Name: "studs", Kind: unit.KindCount, Optional: true},
	}, Limits: []tree.CalcLimit{
		{ID: "runout", Outcomes: []string{"runs-out", "runout-too-close", "runs-true"}},
	}},
	{Name: "rotor-index", Inputs: []tree.CalcInput{
		{Name: "studs", Kind: unit.KindCount},
		{Name: "dial", Kind: unit.KindLength, List: true},
		{Name: "dial-moved", Kind: unit.KindLength, List: true},
		{Name: "moved", Kind: unit.KindCount},
		limit("runout-limit"), gaugeError,
	}, Limits: []tree.CalcLimit{
		{ID: "index", Outcomes: []string{"index-cannot-cure", "index-may-cure", "index-cures"}},
	}},
	{Name: "drum-diameter", Inputs: []tree.CalcInput{
		{Name: "open", Kind: unit.KindLength, List: true},
		{Name: "closed", Kind: unit.KindLength, List: true, Optional: true},
		{Name: "middle", Kind: unit.KindLength, List: true, Optional: true},
		limit("discard"), limit("machine-to"), limit("roundness-limit"), gaugeError,
	}, Limits: []tree.CalcLimit{
		{ID: "discard", Outcomes: []string{"above-discard", "discard-too-close", "below-discard", "discard-unknown"}},
		{ID: "roundness", Outcomes: []string{"out-of-round", "roundness-too-close", "round"}},
	}},
	{Name: "sides", Inputs: []tree.CalcInput{
		{Name: "amount", Kind: unit.KindWord, List: true},
	}, Limits: []tree.CalcLimit{
		{ID: "front", Outcomes: []string{"front-left-more", "front-right-more", "front-alike", "front-unknown"}},
		{ID: "rear", Outcomes: []string{"rear-left-more", "rear-right-more", "rear-alike", "rear-unknown"}},
	}},
	{Name: "lining-wear", Inputs: []tree.CalcInput{
		{Name: "inner", Kind: unit.KindLength},
		{Name: "outer", Kind: unit.KindLength},
		limit("least"),
	}, Limits: []tree.CalcLimit{
		{ID: "lining", Outcomes: []string{"lining-gone", "lining-too-close", "lining-enough"}},
		{ID: "pair", Outcomes: []string{"inner-thin", "outer-thin", "pair-too-close", "pair-alike"}},
	}},
	{Name: "lining-sides", Inputs: []tree.CalcInput{
		{Name: "inner", Kind: unit.KindLength, List: true},
		{Name: "outer", Kind: unit.KindLength, List: true},
	}, Limits: []tree.CalcLimit{
		{ID: "front", Outcomes: []string{"front-left-thin", "front-right-thin", "front-alike", "front-unknown"}},
		{ID: "rear", Outcomes: []string{"rear-left-thin", "rear-right-thin", "rear-alike", "rear-unknown"}},
	}},
	{Name: "lining-trip", Inputs: []tree.CalcInput{
		{Name: "inner", Kind: unit.KindLength, List: true},
		{Name: "outer", Kind: unit.KindLength, List: true},
		{Name: "miles", Kind: unit.KindLength},
		{Name: "trip", Kind: unit.KindLength},
		limit("front-new"), limit("rear-new"),
	}, Limits: []tree.CalcLimit{
		{ID: "front", Outcomes: []string{"front-trip-too-far", "front-trip-doubtful", "front-trip-covered", "front-trip-unknown"}},
		{ID: "rear", Outcomes: []string{"rear-trip-too-far", "rear-trip-doubtful", "rear-trip-covered", "rear-trip-unknown"}},
	}},
	{Name: "wheel-heat", Inputs: []tree.CalcInput{
		{Name: "ambient", Kind: unit.KindTemperature},
		{Name: "wheels", Kind: unit.KindTemperature, List: true},
	}, Limits: []tree.CalcLimit{
		{ID: "front", Outcomes: []string{"front-left-hotter", "front-right-hotter", "front-too-close", "front-alike", "front-unknown"}},
		{ID: "rear", Outcomes: []string{"rear-left-hotter", "rear-right-hotter", "rear-too-close", "rear-alike", "rear-unknown"}},
		{ID: "hottest", Outcomes: []string{"front-left-very-hot", "front-right-very-hot", "rear-left-very-hot", "rear-right-very-hot", "none-very-hot"}},
	}},
	{Name: "shake-match", Inputs: []tree.CalcInput{
		{Name: "speed", Kind: unit.KindSpeed},
		{Name: "tyre", Kind: unit.KindWord, Optional: true},
		{Name: "roll-out", Kind: unit.KindLength, Optional: true},
		{Name: "roll-turns", Kind: unit.KindCount, Optional: true},
		{Name: "axle-ratio", Kind: unit.KindRatio, Optional: true},
		{Name: "felt-hz", Kind: unit.KindFrequency, Optional: true},
		{Name: "speed-off", Kind: unit.KindRatio, Optional: true},
	}, Limits: []tree.CalcLimit{
		{ID: "match", Outcomes: []string{"shaft-fits", "wheel-fits", "match-open", "match-neither", "match-unknown"}},
	}},
	{Name: "roller-sides", Inputs: []tree.CalcInput{
		{Name: "force", Kind: unit.KindForce, List: true},
	}, Limits: []tree.CalcLimit{
		{ID: "front", Outcomes: []string{"front-dangerous", "front-major", "front-alike", "front-unknown"}},
		{ID: "rear", Outcomes: []string{"rear-major", "rear-alike", "rear-unknown"}},
	}},
	{Name: "pedal-travel", Inputs: []tree.CalcInput{
		{Name: "free", Kind: unit.KindLength, Optional: true},
		{Name: "pressed", Kind: unit.KindLength, Optional: true},
		{Name: "pumped", Kind: unit.KindLength, Optional: true},
		{Name: "travel", Kind: unit.KindLength, Optional: true},
		{Name: "pumped-travel", Kind: unit.KindLength, Optional: true},
		{Name: "reserve-limit", Kind: unit.KindRatio, Figure: true, Optional: true},
	}, Limits: []tree.CalcLimit{
		{ID: "reserve", Outcomes: []string{"reserve-low", "reserve-too-close", "reserve-enough", "reserve-unknown"}},
		{ID: "pumped", Outcomes: []string{"goes-down", "comes-up", "pumped-too-close", "stays", "pumped-unknown"}},
	}},
	{Name: "cylinder-bores", Inputs: []tree.CalcInput{
		{Name: "left", Kind: unit.KindLength},
		{Name: "right", Kind: unit.KindLength},
	}, Limits: []tree.CalcLimit{
		{ID: "bores", Outcomes: []string{"bores-unequal", "bores-alike"}},
	}},
	// The rest is for the small books of the tests.
	{Name: "depth", Inputs: []tree.CalcInput{
		{Name: "depth", Kind: unit.KindLength, List: true},
		limit("least"),
	}, Limits: []tree.CalcLimit{
		{ID: "depth", Outcomes: []string{"shallow", "depth-too-close", "deep", "depth-unknown"}},
	}},
	{Name: "which-side", Inputs: []tree.CalcInput{
		{Name: "amount", Kind: unit.KindWord, List: true},
	}, Limits: []tree.CalcLimit{
		{ID: "side", Outcomes: []string{"left-more", "right-more", "alike"}},
	}},
}

var gaugeError = tree.CalcInput{Name: "gauge-error", Kind: unit.KindLength, Optional: true}

func limit(name string) tree.CalcInput {
	return tree.CalcInput{Name: name, Kind: unit.KindLength, Figure: true, Optional: true}
}

// files makes a file system of names and contents.
func files(m map[string]string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for name, text := range m {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

// small is a book of one complaint, `shake`, put together from what a test
// cares about. Every cause that it names is written down by small itself:
// `stop` and `care` say which of them are worse than the rest.
type small struct {
	looks, first string // looks, and questions of first.yaml
	path         string // begins at its first step
	questions    string
	measurements string
	figures      string
	more         map[string]string // further complaints: whole files
	stop, care   string            // causes
	causes       string            // the rest of them
	onlyIf       map[string]string // of causes
	comesFrom    map[string]string // of causes
}

func (s small) fs() fstest.MapFS {
	m := map[string]string{}
	book := "language: 1\nreach: {seat: 1, bonnet: 2, ground: 2, corner: 10, wheel-off: 10, drum-off: 15, yard: 5, road: 10}\n" +
		"complaints:\n  shake: {say: It shakes, short: Shakes}\n"
	for _, id := range slices.Sorted(maps.Keys(s.more)) {
		book += "  " + id + ": {say: It does " + id + ", short: Short}\n"
		m["complaints/"+id+".yaml"] = "complaint: " + id + "\nwords: [" + id + "]\n" + s.more[id]
	}
	m["book.yaml"] = book
	if s.looks == "" {
		s.looks = "  glance: First.\n"
	}
	m["first.yaml"] = "looks:\n" + s.looks + "\nquestions:\n" +
		"  glance: {ask: 'Anything to see?', why: It is free., minutes: 1, place: recall, answers: {odd: Something odd, nothing: {say: Nothing, normal: true}}}\n" + s.first
	begin, _, _ := strings.Cut(strings.TrimSpace(s.path), ":")
	tree := "complaint: shake\nwords: [shake]\nbegin: " + begin + "\npath:\n" + s.path
	if s.questions != "" {
		tree += "\nquestions:\n" + s.questions
	}
	if s.measurements != "" {
		tree += "\nmeasurements:\n" + s.measurements
	}
	m["complaints/shake.yaml"] = tree
	if s.figures != "" {
		m["shared/figures.yaml"] = "figures:\n" + s.figures
	}
	causes := "causes:\n"
	for _, group := range [][2]string{{"stop", s.stop}, {"care", s.care}, {"go", s.causes}} {
		for _, id := range strings.Fields(group[1]) {
			causes += "  " + id + ": {say: The " + id + ", part: part, drive: " + group[0] +
				", do: [Mend it], caution: Mind it., verify: Try it., source: practice"
			if cond := s.onlyIf[id]; cond != "" {
				causes += ", only-if: " + cond
			}
			if from := s.comesFrom[id]; from != "" {
				causes += ", comes-from: " + from
			}
			causes += "}\n"
		}
	}
	m["causes.yaml"] = causes
	return files(m)
}

// load gives the book, which must be a good one.
func (s small) load(t testing.TB) *tree.Book {
	t.Helper()
	b, err := tree.Load(s.fs(), calcs)
	require.NoError(t, err)
	return b
}

// talk turns "check=answer", "check@wheel=answer,answer" and "check=unsure/cannot-tell"
// into what was said.
func talk(said ...string) []tree.Said {
	var out []tree.Said
	for _, line := range said {
		for _, word := range strings.Fields(line) {
			name, answers, _ := strings.Cut(word, "=")
			check, wheel, _ := strings.Cut(name, "@")
			answers, kind, _ := strings.Cut(answers, "/")
			s := tree.Said{Check: check, Wheel: wheel, Kind: kind}
			if answers != "" {
				s.Answers = strings.Split(answers, ",")
			}
			out = append(out, s)
		}
	}
	return out
}

// next names what the walk asks next: "check", "check@front-left,front-right",
// "check?figure", with "+" for what is offered again; "" at the end.
func next(w *tree.Walk) string {
	p := w.Next
	if p == nil {
		return ""
	}
	s := p.Check.ID
	if p.Figure != nil {
		return s + "?" + p.Figure.ID
	}
	if len(p.Wheels) != 1 || p.Wheels[0] != "" {
		s += "@" + strings.Join(p.Wheels, ",")
	}
	if p.Computed {
		s += "!"
	}
	if p.Again {
		s += "+"
	}
	return s
}

// standing gives how the walk came past a check, or -1.
func standing(w *tree.Walk, check string) tree.Standing {
	for _, v := range w.Visits {
		if v.Check.ID == check {
			return v.Standing
		}
	}
	return -1
}

// found gives the standing of each cause that the assessment lists.
func found(a *tree.Assessment) map[string]string {
	out := map[string]string{}
	for _, f := range a.Findings {
		out[f.Cause.ID] = f.Standing
	}
	return out
}

func finding(t testing.TB, a *tree.Assessment, cause string) tree.Finding {
	t.Helper()
	for _, f := range a.Findings {
		if f.Cause.ID == cause {
			return f
		}
	}
	t.Fatalf("no finding %s", cause)
	return tree.Finding{}
}
