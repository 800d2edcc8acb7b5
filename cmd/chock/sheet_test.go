package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"chock/cmd/chock/internal/record"
	"chock/cmd/chock/internal/report"
	"chock/tree"
	"chock/tree/book"
)

// wanted gives what a sheet for these complaints must ask, found without the
// book's own listing: the first looks, every step, and what they wait for.
func wanted(b *tree.Book, complaints []string) (checks map[string]*tree.Check, figures map[string]bool) {
	seen := map[string]bool{}
	checks, figures = map[string]*tree.Check{}, map[string]bool{}
	var picker string
	for _, c := range b.Checks {
		if c.Picks {
			picker = c.ID
		}
	}
	var add func(id string)
	add = func(id string) {
		c := b.Checks[id]
		if seen[id] {
			return
		}
		seen[id] = true
		ofItsOwn := false
		for _, cond := range slices.Concat(c.OnlyIf, c.Needs) {
			add(cond.Question)
		}
		for _, in := range c.Inputs {
			if in.From != "" {
				from, _, _ := strings.Cut(in.From, ".")
				add(from)
			}
			if in.Figure != "" {
				figures[in.Figure] = true
			}
			ofItsOwn = ofItsOwn || in.Most > 0
		}
		if c.At == "named" {
			add(picker)
		}
		if c.Measure == "" || ofItsOwn {
			checks[id] = c
		}
	}
	for _, l := range b.Looks {
		add(l.Check)
	}
	for _, id := range complaints {
		for _, s := range b.Complaint(id).Steps {
			add(s.Check)
		}
	}
	return checks, figures
}

// wheelsOf gives the wheels at which c is asked, "" where it is not about one.
func wheelsOf(b *tree.Book, c *tree.Check) []string {
	switch c.At {
	case "":
		return []string{""}
	case "front":
		return tree.Wheels[:2]
	case "rear":
		return tree.Wheels[2:]
	case "named":
		for _, p := range b.Checks {
			if p.Picks {
				var out []string
				for _, a := range p.Answers {
					out = append(out, a.ID)
				}
				return out
			}
		}
	}
	return tree.Wheels
}

func textSheet(t require.TestingT, s *report.Sheet, width int) string {
	var b bytes.Buffer
	require.NoError(t, report.SheetText(&b, s, width))
	return b.String()
}

func htmlSheet(t require.TestingT, s *report.Sheet) string {
	var b bytes.Buffer
	require.NoError(t, report.SheetHTML(&b, s))
	return b.String()
}

// someComplaints draws one complaint or more, in the order of the book.
func someComplaints(t *rapid.T, b *tree.Book) []string {
	var out []string
	for _, c := range b.Complaints {
		if rapid.Bool().Draw(t, c.ID) {
			out = append(out, c.ID)
		}
	}
	if out == nil {
		out = []string{rapid.SampledFrom(b.Complaints).Draw(t, "one").ID}
	}
	return out
}

var textCheck = regexp.MustCompile(`(?ms)^(\d+)\. (.*?)^Notes _+$`)

// holdText holds a text sheet to what it must ask: every check once, with its
// words and a box for each answer at each wheel, a blank for each reading, and
// each figure once.
func holdText(t require.TestingT, b *tree.Book, complaints []string, units string) {
	s := makeSheet(b, complaints, sheetFlags{units: units})
	text := textSheet(t, s, 132)
	checks, figures := wanted(b, complaints)
	have := map[string]int{}
	for i, m := range textCheck.FindAllStringSubmatch(text, -1) {
		require.Equal(t, strconv.Itoa(i+1), m[1], "numbers go on")
		lines := strings.Split(m[2], "\n")
		id := ""
		for _, l := range lines {
			if small := strings.TrimPrefix(l, "   "); small != l && b.Checks[small[strings.LastIndex(small, " ")+1:]] != nil {
				id = small[strings.LastIndex(small, " ")+1:] // the last of the small print
			}
		}
		require.NotEmpty(t, id, "no id in %s", m[2])
		have[id]++
		c := b.Checks[id]
		words := strings.Join(strings.Fields(m[2]), " ")
		require.Contains(t, words, strings.Join(strings.Fields(c.Ask), " "))
		if checks[id] == nil { // worked out, with a figure to ask for
			continue
		}
		boxes := strings.Repeat("[ ] ", len(wheelsOf(b, c)))
		for _, a := range c.Answers {
			if c.Measure != "" {
				break // outcomes are nobody's to tick
			}
			mark := ""
			switch {
			case a.Drive == tree.Stop:
				mark = "STOP: "
			case a.Fails && c.Look == tree.Yard:
				mark = "STAY: "
			case a.Fails:
				mark = "NO ROAD: "
			}
			require.Equal(t, 1, strings.Count(m[2], "\n"+boxes+mark+a.Say+"\n"), "%s, %s in\n%s", id, a.ID, m[2])
		}
		require.Equal(t, 1, strings.Count(m[2], "not sure, L T or R"), "%s", id)
		for _, in := range c.Inputs {
			if in.Most == 0 {
				continue
			}
			require.Contains(t, words, in.Say)
			require.Contains(t, words, unitName(in.Unit(units)))
		}
		if c.Measure != "" {
			blanks := 0
			for _, in := range c.Inputs {
				blanks += in.Most
				if in.Figure != "" { // asked here, or where it stands already
					require.Contains(t, words, "Figure: "+strings.Join(strings.Fields(b.Figures[in.Figure].Ask), " "), "%s", id)
				}
			}
			require.Equal(t, blanks*len(wheelsOf(b, c)), len(regexp.MustCompile(`\b________\b`).FindAllString(m[2], -1)), "%s: a blank for each reading\n%s", id, m[2])
		}
		require.NotContains(t, words, strings.Join(strings.Fields(c.Why), " "), "%s: a limit beside the reading", id)
	}
	for id := range checks {
		require.Equal(t, 1, have[id], "%s on the sheet of %v", id, complaints)
	}
	for id, n := range have {
		require.Equal(t, 1, n, "%s", id)
		require.True(t, checks[id] != nil || b.Checks[id].Computed(), "%s is on the sheet of %v", id, complaints)
	}
	all := strings.Join(strings.Fields(text), " ")
	for id := range figures {
		require.Equal(t, 1, strings.Count(all, "Figure: "+strings.Join(strings.Fields(b.Figures[id].Ask), " ")+" ____________ "), "%s", id)
	}
	require.Equal(t, len(figures), strings.Count(all, " ____________ "), "figures of %v", complaints)
	for _, id := range complaints {
		require.Contains(t, all, "For: "+b.Complaint(id).Say)
	}
}

func TestSheetText(t *testing.T) {
	t.Setenv("LC_ALL", "C.UTF-8")
	b := loadBook(t)
	var all []string
	for _, c := range b.Complaints {
		all = append(all, c.ID)
		holdText(t, b, []string{c.ID}, "metric")
	}
	holdText(t, b, all, "us")
	rapid.Check(t, func(rt *rapid.T) { holdText(rt, b, someComplaints(rt, b), "us") })
}

func TestSheetWidths(t *testing.T) {
	t.Setenv("LC_ALL", "C.UTF-8")
	b := loadBook(t)
	for _, steps := range []bool{false, true} {
		s := makeSheet(b, (&talker{book: b}).ids(), sheetFlags{units: "us", steps: steps})
		for _, width := range []int{40, 60, 80, 100} {
			for i, line := range strings.Split(textSheet(t, s, width), "\n") {
				assert.LessOrEqual(t, runewidth.StringWidth(line), width, "line %d at %d: %s", i+1, width, line)
				assert.Equal(t, strings.TrimRight(line, " "), line, "line %d at %d", i+1, width)
			}
		}
	}
}

// The way round the vehicle: by place, in the order of asking within one.
// Pedal and ground come once more after the wheels were shaken, because a look
// that is asked then is there for what the shaking did.
func TestSheetOrder(t *testing.T) {
	b := loadBook(t)
	ids := (&talker{book: b}).ids()
	s := makeSheet(b, ids, sheetFlags{units: "us"})
	var names []string
	place, order := map[string]int{}, map[string]int{}
	for i, st := range s.Stations {
		names = append(names, st.Name)
		for _, k := range st.Blanks {
			if words := b.Cautions[b.Checks[k.ID].Place]; words != "" && k.ID != "runout-wheel" {
				assert.Contains(t, st.Cautions, words, st.Name)
			}
			place[k.ID], order[k.ID] = i, k.N
		}
	}
	assert.Equal(t, []string{"From memory", "Seat", "Under the bonnet", "On the ground", "Each corner raised", "Wheels off", "Drums off",
		"Back on its wheels, before it moves", "Yard", "Road"}, names)
	for _, pair := range [][2]string{
		{"first-press", "second-press"}, {"second-press", "light-hold"}, {"light-hold", "hard-hold"}, // every press spoils the next test a little
		{"spin", "pedal-firm"}, {"drum-look", "pedal-firm"}, {"pedal-firm", "roll"}, {"bearing-out", "pedal-after"}, {"bleeder-frees", "holds-after-opening"}, {"holds-after-opening", "roll"}, // the first press after rocking is not left to the yard
		{"front-rotor-thickness", "front-rotor-runout"}, {"front-rotor-runout", "runout-wheel"}, {"runout-wheel", "front-runout-again"},
	} {
		if b.Checks[pair[0]] != nil && b.Checks[pair[1]] != nil {
			assert.Less(t, order[pair[0]], order[pair[1]], "%s before %s", pair[0], pair[1])
		}
	}
	last := map[int]int{}
	for _, l := range b.Listing(ids...) {
		n, on := order[l.Check.ID]
		if !on || l.Check.Picks {
			continue
		}
		assert.Less(t, last[place[l.Check.ID]], n, "%s is asked before %d", l.Check.ID, last[place[l.Check.ID]])
		last[place[l.Check.ID]] = n
	}
}

// A check that a tree comes to only after a few answers says after which.
func TestSheetBranches(t *testing.T) {
	b := loadBook(t)
	find := func(id string) report.Blank {
		for _, st := range makeSheet(b, []string{"pulsation"}, sheetFlags{units: "us"}).Stations {
			for _, k := range st.Blanks {
				if k.ID == id {
					return k
				}
			}
		}
		require.Fail(t, "not on the sheet", id)
		return report.Blank{}
	}
	assert.Regexp(t, `^\d+ \(shake when\): not sure, or left out$`, find("shake-runs").If)
	assert.Regexp(t, `^\d+ \(wheel nuts\) at any wheel: "`, find("still-after-nuts").If)
	assert.Regexp(t, `^at the wheel ticked at \d+, and `, find("front-runout-again").If)
	assert.Regexp(t, `\(assist kind\): ".*", for sure$`, find("hard-hold-pump").If)
	assert.Empty(t, find("where-felt").If, "asked on every way")
	assert.Empty(t, find("roll").If, "a first look")
}

// node is an element of a page.
type node struct {
	name     string
	attr     map[string]string
	parent   *node
	children []*node
	words    string // of a text, which has no name
}

func (n *node) text() string {
	var out strings.Builder
	out.WriteString(n.words)
	for _, c := range n.children {
		out.WriteString(c.text())
	}
	return out.String()
}

func (n *node) all(name string) []*node {
	var out []*node
	for _, c := range n.children {
		if c.name == name {
			out = append(out, c)
		}
		out = append(out, c.all(name)...)
	}
	return out
}

func (n *node) within(name string) bool {
	return n != nil && (n.name == name || n.parent.within(name))
}

// parsePage reads a page strictly, as XML.
func parsePage(t require.TestingT, page string) *node {
	d := xml.NewDecoder(strings.NewReader(page))
	root := &node{}
	at := root
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			require.Equal(t, root, at, "an element is left open")
			return root
		}
		require.NoError(t, err)
		switch tok := tok.(type) {
		case xml.StartElement:
			n := &node{name: tok.Name.Local, attr: map[string]string{}, parent: at}
			for _, a := range tok.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			at.children, at = append(at.children, n), n
		case xml.EndElement:
			at = at.parent
		case xml.CharData:
			at.children = append(at.children, &node{parent: at, words: string(tok)})
		}
	}
}

// holdHTML holds a page to the same as holdText, and to what a reader needs
// who hears it or reads it on a phone.
func holdHTML(t require.TestingT, b *tree.Book, complaints []string) {
	page := htmlSheet(t, makeSheet(b, complaints, sheetFlags{units: "us"}))
	root := parsePage(t, page)
	checks, figures := wanted(b, complaints)
	have := map[string]int{}
	blanks := 0
	for _, div := range root.all("div") {
		if div.attr["class"] != "check" {
			continue
		}
		small, id := div.all("p"), ""
		for _, p := range small {
			if words := strings.Fields(p.text()); p.attr["class"] == "small" && len(words) > 0 && b.Checks[words[len(words)-1]] != nil {
				id = words[len(words)-1]
			}
		}
		require.NotEmpty(t, id, "no id in %s", div.text())
		have[id]++
		c := b.Checks[id]
		require.Contains(t, div.all("h3")[0].text(), c.Ask)
		if checks[id] == nil {
			continue
		}
		boxes, typed := 0, 0
		for _, in := range div.all("input") {
			if in.attr["type"] == "checkbox" {
				boxes++
			} else if in.within("td") && in.attr["class"] == "" {
				typed++
			}
		}
		wheels := wheelsOf(b, c)
		if c.Measure == "" {
			require.Equal(t, len(c.Answers)*len(wheels), boxes, "%s", id)
			var words []string
			for _, n := range append(div.all("th"), div.all("label")...) {
				words = append(words, n.text())
			}
			for _, a := range c.Answers {
				n := 0
				for _, w := range words {
					if strings.HasSuffix(strings.TrimSpace(w), a.Say) && (a.Drive == tree.Stop) == strings.Contains(w, "STOP ") {
						n++
					}
				}
				require.Equal(t, 1, n, "%s, %s: %q", id, a.ID, words)
			}
		} else {
			want := 0
			for _, in := range c.Inputs {
				want += in.Most * len(wheels)
			}
			require.Equal(t, want, typed, "%s: a blank for each reading", id)
		}
	}
	for id := range checks {
		require.Equal(t, 1, have[id], "%s on the page of %v", id, complaints)
	}
	for _, n := range root.all("input") {
		if n.attr["aria-label"] == "figure" {
			blanks++
		}
	}
	require.Equal(t, len(figures), blanks)

	// Headings go down by one, the first is the only h1.
	level, tops := 0, 0
	var visit func(n *node)
	visit = func(n *node) {
		if len(n.name) == 2 && n.name[0] == 'h' && n.name[1] >= '1' && n.name[1] <= '6' {
			now := int(n.name[1] - '0')
			require.LessOrEqual(t, now, level+1, "after h%d comes %s %q", level, n.name, n.text())
			if level = now; now == 1 {
				tops++
			}
		}
		for _, c := range n.children {
			visit(c)
		}
	}
	visit(root)
	require.Equal(t, 1, tops)

	// Everything can be named, and nothing wants the network.
	ids := map[string]bool{}
	var every func(n *node, fn func(*node))
	every = func(n *node, fn func(*node)) {
		fn(n)
		for _, c := range n.children {
			every(c, fn)
		}
	}
	every(root, func(n *node) {
		if id := n.attr["id"]; id != "" {
			require.False(t, ids[id], "id %s twice", id)
			ids[id] = true
		}
	})
	every(root, func(n *node) {
		for _, ref := range []string{n.attr["aria-labelledby"], strings.TrimPrefix(n.attr["href"], "#")} {
			require.True(t, ref == "" || ids[ref], "nothing is called %q", ref)
		}
		switch n.name {
		case "input":
			require.True(t, n.attr["aria-label"] != "" || n.within("label"), "a field without a name")
		case "th":
			require.Contains(t, []string{"col", "row"}, n.attr["scope"])
		case "table":
			require.True(t, n.attr["aria-labelledby"] != "" || len(n.all("caption")) == 1)
		case "html":
			require.Equal(t, "en", n.attr["lang"])
		case "script", "link", "img", "iframe", "object", "form":
			require.Fail(t, "the page has a "+n.name)
		}
		require.True(t, n.attr["src"] == "" && (n.attr["href"] == "" || n.attr["href"][0] == '#'), "%v", n.attr)
	})
	for _, outside := range []string{"://", "url(", "@import", "ZgotmplZ"} {
		require.NotContains(t, page, outside)
	}
}

func TestSheetHTML(t *testing.T) {
	b := loadBook(t)
	holdHTML(t, b, (&talker{book: b}).ids())
	rapid.Check(t, func(rt *rapid.T) { holdHTML(rt, b, someComplaints(rt, b)) })
}

// The answers file of a sheet is one: it is read, every check and figure of
// the sheet has its line, and all say "not sure".
func TestSheetAnswers(t *testing.T) {
	b := loadBook(t)
	path := filepath.Join(t.TempDir(), "answers.yaml")
	rapid.Check(t, func(rt *rapid.T) {
		ids := someComplaints(rt, b)
		units := rapid.SampledFrom([]string{"us", "metric"}).Draw(rt, "units")
		var out bytes.Buffer
		require.NoError(rt, report.SheetAnswers(&out, makeSheet(b, ids, sheetFlags{units: units}), ids))
		require.NoError(rt, os.WriteFile(path, out.Bytes(), 0o600))
		a, err := record.LoadAnswers(path)
		require.NoError(rt, err)
		require.Equal(rt, ids, a.Entries["complaints"].Text)
		checks, figures := wanted(b, ids)
		want := append(slices.Collect(maps.Keys(checks)), "complaints")
		want = append(want, slices.Collect(maps.Keys(figures))...)
		require.ElementsMatch(rt, want, slices.Collect(maps.Keys(a.Entries)))
		for id, c := range checks {
			for _, w := range wheelsOf(b, c) {
				e := a.Entries[id]
				if w != "" {
					e = e.At[w]
				}
				if e.At == nil {
					require.Equal(rt, []string{"unsure"}, e.Text, "%s %s", id, w)
				}
				for name, in := range e.At {
					require.Equal(rt, []string{"unsure"}, in.Text, "%s %s %s", id, w, name)
				}
			}
		}
	})
}

func BenchmarkSheet(b *testing.B) {
	bk, err := tree.Load(book.FS, calculations())
	require.NoError(b, err)
	ids := (&talker{book: bk}).ids()
	b.Run("text", func(b *testing.B) {
		for b.Loop() {
			require.NoError(b, report.SheetText(io.Discard, makeSheet(bk, ids, sheetFlags{units: "us"}), 80))
		}
	})
	b.Run("html", func(b *testing.B) {
		for b.Loop() {
			require.NoError(b, report.SheetHTML(io.Discard, makeSheet(bk, ids, sheetFlags{units: "us"})))
		}
	})
}
