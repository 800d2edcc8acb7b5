package tree

import "slices"

// A Listed is a check with the tree that asks it.
type Listed struct {
	Check *Check
	Tree  string // a complaint, or first
}

// Listing gives every check in the order in which it is asked, those that a
// check waits for before it.
func (b *Book) Listing() []Listed {
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
		for _, s := range c.Steps {
			add(s.Check, c.ID)
		}
	}
	for _, c := range b.Causes {
		for _, cond := range c.OnlyIf {
			add(cond.Question, "causes")
		}
	}
	return out
}

// SingleLooks gives the dangerous causes that fewer than two checks can show
// or clear directly.
func (b *Book) SingleLooks() []*Cause {
	var out []*Cause
	for _, c := range b.Causes {
		if c.Drive != Stop {
			continue
		}
		n := 0
		for _, check := range b.Checks {
			if check.Like == "" && slices.ContainsFunc(check.Answers, func(a *Answer) bool {
				return slices.Contains(a.Shows, c.ID) || slices.Contains(a.Clears, c.ID)
			}) {
				n++
			}
		}
		if n < 2 {
			out = append(out, c)
		}
	}
	return out
}
