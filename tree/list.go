package tree

import (
	"cmp"
	"slices"
)

// A Listed is a check with the tree that asks it.
type Listed struct {
	Check *Check
	Tree  string // a complaint, or first
}

// Listing gives every check in the order in which it is asked, those that a
// check waits for before it: of the first looks and the trees of the
// complaints named or, where none is named, of the whole book.
func (b *Book) Listing(complaints ...string) []Listed {
	var out []Listed
	seen := map[string]bool{}
	var add func(id, tree string)
	add = func(id, tree string) {
		c := b.Checks[id]
		if c == nil || seen[id] {
			return
		}
		seen[id] = true
		for _, q := range b.waitsFor(c) {
			add(q, tree)
		}
		out = append(out, Listed{c, tree})
	}
	for _, l := range b.Looks {
		add(l.Check, "first")
	}
	for _, c := range b.Complaints {
		if len(complaints) > 0 && !slices.Contains(complaints, c.ID) {
			continue
		}
		for _, s := range c.Steps {
			add(s.Check, c.ID)
		}
	}
	if len(complaints) > 0 {
		return out
	}
	for _, c := range b.Causes {
		for _, cond := range slices.Concat(c.OnlyIf, c.OrIf) {
			add(cond.Question, "causes")
		}
	}
	return out
}

// SingleLooks gives the dangerous causes that one wrong answer could talk
// away: some check that can show the cause stands alone. Two looks stand
// together when they are not the same check asked twice, when one vehicle can
// be asked both at the same wheel, and when neither hangs on what another look
// for the cause was answered.
func (b *Book) SingleLooks() []*Cause {
	var out []*Cause
	for _, c := range b.Causes {
		looks := b.CanShow(c.ID)
		alone := func(l *Check, wheel string) bool {
			return !slices.ContainsFunc(looks, func(o *Check) bool { return b.independent(l, o) && asks(o, wheel) })
		}
		if c.Drive == Stop && (len(looks) == 0 || slices.ContainsFunc(looks, func(l *Check) bool {
			return slices.ContainsFunc(Wheels, func(wheel string) bool { return asks(l, wheel) && alone(l, wheel) })
		})) {
			out = append(out, c)
		}
	}
	return out
}

// asks reports whether a check can see what is at a wheel.
func asks(c *Check, wheel string) bool {
	return c.At == "" || c.At == "named" || slices.Contains(wheelsAt[c.At], wheel)
}

// CanShow gives the checks that can show a cause and do not hang on another of
// them.
func (b *Book) CanShow(cause string) []*Check {
	var shows []*Check
	for _, id := range sortedKeys(b.Checks) {
		if slices.ContainsFunc(b.Checks[id].Answers, func(a *Answer) bool { return slices.Contains(a.Shows, cause) }) {
			shows = append(shows, b.Checks[id])
		}
	}
	var hangs func(c *Check) bool
	hangs = func(c *Check) bool {
		return slices.ContainsFunc(b.waitsFor(c), func(id string) bool {
			q := b.Checks[id]
			return slices.Contains(shows, q) || hangs(q)
		})
	}
	return slices.DeleteFunc(slices.Clone(shows), hangs)
}

// independent reports whether two looks are two: not twins, and not for
// vehicles built otherwise.
func (b *Book) independent(l, o *Check) bool {
	root := func(c *Check) string { return cmp.Or(c.Like, c.ID) }
	if root(l) == root(o) {
		return false
	}
	for _, x := range l.OnlyIf {
		for _, y := range o.OnlyIf {
			both := slices.ContainsFunc(x.Answers, func(a string) bool { return slices.Contains(y.Answers, a) })
			if x.Question == y.Question && !both {
				return false
			}
		}
	}
	return true
}

// Dead gives the checks whose answers change nothing: whatever is answered,
// every step leads on the same way, nothing is shown, cleared, mended, failed,
// opened, advised or evidence of anything, and no condition or calculation asks for the answer.
func (b *Book) Dead() []*Check {
	used := map[string]bool{}
	if b.picker != nil {
		used[b.picker.ID] = true
	}
	for _, id := range sortedKeys(b.Checks) {
		for _, q := range b.waitsFor(b.Checks[id]) {
			used[q] = true
		}
	}
	for _, c := range b.Causes {
		for _, cond := range slices.Concat(c.OnlyIf, c.OrIf) {
			used[cond.Question] = true
		}
	}
	for _, c := range b.Complaints {
		for _, s := range c.Steps {
			check := b.Checks[s.Check]
			used[check.ID] = used[check.ID] || slices.ContainsFunc(check.Answers, func(a *Answer) bool {
				return !alike(s.Then[a.ID], s.Then[check.Answers[0].ID])
			})
		}
	}
	var out []*Check
	for _, id := range sortedKeys(b.Checks) {
		c := b.Checks[id]
		if !used[id] && c.Look == "" && !slices.ContainsFunc(c.Answers, (*Answer).does) {
			out = append(out, c)
		}
	}
	return out
}

// does reports whether an answer does anything beside leading on.
func (a *Answer) does() bool {
	return a.Drive > Go || a.Fails || len(a.Shows)+len(a.Clears)+len(a.Mended)+len(a.Opens)+len(a.Fits) > 0
}

// alike reports whether two targets are one, or ends that name the same.
func alike(x, y Target) bool {
	if x.End == nil || y.End == nil {
		return x == y
	}
	return slices.Equal(x.End.Likely, y.End.Likely) && slices.Equal(x.End.Possible, y.End.Possible)
}
