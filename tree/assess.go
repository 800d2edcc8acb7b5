package tree

import (
	"cmp"
	"slices"
)

// A Ref names an answer: of a check, at a wheel or not.
type Ref struct{ Check, Wheel, Answer string }

// Standings of a cause.
const (
	Found    = "found"
	Mended   = "mended" // found, put right and checked again
	Likely   = "likely"
	Possible = "possible"
	Unlikely = "unlikely"
)

// A Finding says how a cause stands after all that was said.
type Finding struct {
	Cause    *Cause
	Standing string
	Wheels   []string // at which it was found
	For      []Ref    // answers that show it, or that an end named it on
	Against  []Ref    // answers that clear it
	Disagree bool     // shown and cleared at one wheel: look again
	Drive    Drive    // what it asks for
	Chance   float64  // by the evidence; 0 where it was not weighed
	Odds     bool     // named by the evidence alone
	// Other findings that can have brought it about, at the same wheel where
	// both are known by wheel. One does not take the place of the other.
	ComesFrom []Origin
}

// A Reason is one ground of the drive advice.
type Reason struct {
	Drive Drive
	Kind  string // answer unsure cause look-failed look-open no-cause unfinished not-checked
	Ref   Ref    // of an answer or a look
	Cause *Cause
}

// An Unchecked is something that no answer cleared.
type Unchecked struct {
	Kind      string // cause wheel question
	ID        string
	Wheel     string
	Cause     *Cause
	Check     *Check
	Standing  Standing // Answered means that the answer was "not sure"
	How       string   // kind of "not sure", or later
	Dangerous bool
}

// An Assessment is what the answers come to.
type Assessment struct {
	Ended        bool
	Drive        Drive
	Reasons      []Reason // strictest first
	Findings     []Finding
	NotExplained []Ref
	NotChecked   []Unchecked // dangerous causes first
	SetAside     []Ref       // answers that no longer apply to this vehicle
	NoFault      bool        // every dangerous cause cleared and nothing found
}

// Assess says what the answers come to. It depends on the set of answers,
// never on their order.
func (b *Book) Assess(w *Walk) *Assessment { return b.Weigh(w, nil) }

// Weigh is Assess with the evidence: it adds causes that are likely without
// being shown, and takes none away.
func (b *Book) Weigh(w *Walk, bl *Belief) *Assessment {
	a := &Assessment{Ended: w.Next == nil && !w.Halted}
	as := assessing{w, a, map[string]*Finding{}}
	as.setAside()
	as.shown()
	as.ends()
	as.cleared()
	as.weighed(bl)
	as.settle()
	as.chain()
	as.notExplained()
	as.notChecked()
	as.drive()
	a.NoFault = a.Ended && len(a.NotExplained) == 0 && len(w.Failed) == 0 && len(w.Open) == 0 &&
		!slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.Standing != Unlikely }) &&
		!slices.ContainsFunc(a.NotChecked, func(u Unchecked) bool { return u.Kind == "cause" })
	return a
}

type assessing struct {
	*Walk
	out *Assessment
	by  map[string]*Finding
}

// stands reports whether a fact counts: its check exists, and nothing that is
// known says that the vehicle is built otherwise. Where another check would be
// asked in place of this one as long as that is not known, what was seen by it
// was seen all the same.
func (w *Walk) stands(k key) (*Check, bool) {
	c := w.book.Checks[k.check]
	if c == nil {
		return nil, false
	}
	f, said := w.facts[k]
	told := said && !f.Unsure()
	for _, cond := range c.OnlyIf {
		cond.Sure = cond.Sure && !told
		if !w.holds(cond, k.wheel, true) {
			return nil, false
		}
	}
	return c, true
}

// given calls fn for each answer that counts.
func (w *Walk) given(fn func(c *Check, k key, a *Answer)) {
	for _, k := range w.order {
		if c, ok := w.stands(k); ok {
			for _, id := range w.facts[k].Answers {
				if a := c.Answer(id); a != nil {
					fn(c, k, a)
				}
			}
		}
	}
}

func (as assessing) setAside() {
	for _, k := range as.order {
		if c := as.book.Checks[k.check]; c != nil {
			if _, ok := as.stands(k); !ok {
				as.out.SetAside = append(as.out.SetAside, Ref{k.check, k.wheel, as.facts[k].Answers[0]})
			}
		}
	}
}

func (as assessing) finding(id string) *Finding {
	f := as.by[id]
	if f == nil {
		f = &Finding{Cause: as.book.causes[id]}
		as.by[id] = f
	}
	return f
}

// shown notes the causes that an answer shows.
func (as assessing) shown() {
	as.given(func(c *Check, k key, a *Answer) {
		for _, id := range a.Shows {
			if !as.can(as.book.causes[id], k.wheel) {
				continue
			}
			f := as.finding(id)
			f.For = append(f.For, Ref{k.check, k.wheel, a.ID})
			if k.wheel != "" && !slices.Contains(f.Wheels, k.wheel) {
				f.Wheels = append(f.Wheels, k.wheel)
			}
			if !as.mended(id, k.wheel) {
				f.Standing = Found
			} else if f.Standing == "" {
				f.Standing = Mended
			}
		}
	})
}

// ends adds the causes that an end names and no answer shows.
func (as assessing) ends() {
	for _, r := range as.Reached {
		ref := Ref{r.Step.Check, "", r.Answer}
		for _, id := range r.End.Likely {
			as.name(id, Likely, ref)
		}
		for _, id := range r.End.Possible {
			as.name(id, Possible, ref)
		}
	}
}

func (as assessing) name(id, standing string, ref Ref) {
	if !as.can(as.book.causes[id], "") {
		return
	}
	f := as.finding(id)
	switch f.Standing {
	case "", Possible:
		f.Standing = standing
		f.For = append(f.For, ref)
	}
}

// cleared notes direct passes, and takes back what an end named although a
// check cleared it at every wheel at which it applies.
func (as assessing) cleared() {
	clears := map[string][]Ref{}
	as.given(func(c *Check, k key, a *Answer) {
		for _, id := range a.Clears {
			clears[id] = append(clears[id], Ref{k.check, k.wheel, a.ID})
		}
	})
	for _, cause := range as.book.Causes {
		refs := clears[cause.ID]
		if refs == nil {
			continue
		}
		whole := as.whole(cause.ID, refs)
		f := as.by[cause.ID]
		if f == nil {
			if !whole || !as.can(cause, "") {
				continue
			}
			f = as.finding(cause.ID)
		}
		f.Against = refs
		if whole && f.Standing != Found && f.Standing != Mended {
			f.Standing = Unlikely
			f.For = nil
		}
		for _, r := range f.Against {
			for _, s := range f.For {
				// Put right and read again is no disagreement.
				if (r.Wheel == s.Wheel || r.Wheel == "") && r.Check != s.Check && !as.mended(cause.ID, s.Wheel) {
					f.Disagree = f.Standing == Found
				}
			}
		}
	}
}

// How likely a cause must be by the evidence to be named likely or possible:
// our estimate.
const (
	likelyFrom   = 0.60
	possibleFrom = 0.05
)

// weighed adds what the evidence makes likely or possible. What was found,
// put right or cleared by a check stands as it is.
func (as assessing) weighed(bl *Belief) {
	if bl == nil {
		return
	}
	for i, c := range as.book.Causes {
		p := bl.Causes[i]
		f := as.by[c.ID]
		if f != nil {
			f.Chance = p
		}
		standing := ""
		switch {
		case p >= likelyFrom:
			standing = Likely
		case p >= possibleFrom:
			standing = Possible
		}
		if standing == "" || f != nil && f.Standing != "" && (f.Standing != Possible || standing == Possible) {
			continue
		}
		f = as.finding(c.ID)
		f.Standing, f.Chance, f.Odds = standing, p, f.Standing == ""
		for _, r := range bl.speaksFor(i) {
			if !slices.Contains(f.For, r) {
				f.For = append(f.For, r)
			}
		}
	}
}

// whole reports whether refs clear a cause whole: by a check of the whole
// vehicle, or at every wheel at which any check that can clear it applies, so
// that two sound front rotors say nothing of the rear.
func (as assessing) whole(cause string, refs []Ref) bool {
	at := map[string]bool{}
	for _, r := range refs {
		at[r.Wheel] = true
	}
	if at[""] {
		return true
	}
	some := false
	for _, c := range as.book.clearing[cause] {
		for _, wheel := range as.wheels(c) {
			if wheel == "" || !as.applies(c.OnlyIf, wheel) {
				continue
			}
			if !at[wheel] {
				return false
			}
			some = true
		}
	}
	return some // not so when nobody knows any more which wheel is meant
}

// settle orders the findings and fixes what each asks for.
func (as assessing) settle() {
	rank := map[string]int{Found: 0, Mended: 1, Likely: 2, Possible: 3, Unlikely: 4}
	for _, c := range as.book.Causes {
		f := as.by[c.ID]
		if f == nil || f.Standing == "" {
			continue
		}
		switch f.Standing {
		case Found, Likely, Possible:
			f.Drive = c.Drive
			// Nobody is kept from driving by small odds alone: that wants a sign, an
			// end of a tree, or good odds. A danger that was not checked asks for
			// care anyway.
			if f.Odds && f.Standing == Possible {
				f.Drive = min(c.Drive, Care)
			}
		case Mended:
			f.Drive = min(c.Drive, Care)
		}
		slices.SortFunc(f.Wheels, func(a, b string) int { return slices.Index(Wheels, a) - slices.Index(Wheels, b) })
		slices.SortFunc(f.For, compareRefs)
		slices.SortFunc(f.Against, compareRefs)
		as.out.Findings = append(as.out.Findings, *f)
	}
	slices.SortStableFunc(as.out.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(rank[a.Standing], rank[b.Standing]), cmp.Compare(b.Cause.Drive, a.Cause.Drive))
	})
}

// chain notes which findings may come from which.
func (as assessing) chain() {
	stands := func(f *Finding) bool {
		return f != nil && (f.Standing == Found || f.Standing == Mended || f.Standing == Likely)
	}
	for i := range as.out.Findings {
		f := &as.out.Findings[i]
		if !stands(f) {
			continue
		}
		for _, o := range f.Cause.ComesFrom {
			by := as.by[o.Cause]
			if stands(by) && (len(f.Wheels) == 0 || len(by.Wheels) == 0 ||
				slices.ContainsFunc(f.Wheels, func(w string) bool { return slices.Contains(by.Wheels, w) })) {
				f.ComesFrom = append(f.ComesFrom, o)
			}
		}
	}
}

func compareRefs(a, b Ref) int {
	return cmp.Or(cmp.Compare(a.Check, b.Check), cmp.Compare(slices.Index(Wheels, a.Wheel), slices.Index(Wheels, b.Wheel)),
		cmp.Compare(a.Answer, b.Answer))
}

// drive gathers every ground of the advice; the strictest decides.
func (as assessing) drive() {
	var rs []Reason
	add := func(d Drive, kind string, ref Ref, c *Cause) {
		if d > Go {
			rs = append(rs, Reason{d, kind, ref, c})
		}
	}
	as.given(func(c *Check, k key, a *Answer) {
		d := a.Drive
		if as.allMended(a, k.wheel) {
			d = min(d, Care)
		}
		add(d, "answer", Ref{k.check, k.wheel, a.ID}, nil)
	})
	for _, k := range as.order {
		f := as.facts[k]
		if c, ok := as.stands(k); ok && f.Unsure() {
			add(c.UnsureDrive, "unsure", Ref{k.check, k.wheel, Unsure}, nil)
		}
	}
	for _, v := range as.Visits {
		if v.Standing == CannotReach || v.Standing == Barred {
			add(v.Check.UnsureDrive, "unsure", Ref{v.Check.ID, "", Unsure}, nil)
		}
	}
	for _, f := range as.out.Findings {
		add(f.Drive, "cause", Ref{}, f.Cause)
	}
	look := func(ids []string, kind string) {
		for _, id := range ids {
			d := Care
			if as.book.Checks[id].Look == Yard {
				d = Stop
			}
			add(d, kind, Ref{Check: id}, nil)
		}
	}
	look(as.Failed, "look-failed")
	look(as.Open, "look-open")
	for _, r := range as.Reached {
		if !as.book.complaints[r.Complaint].Round && !as.traced(r) {
			add(Care, "no-cause", Ref{Check: r.Complaint}, nil)
		}
	}
	if !as.out.Ended {
		add(Care, "unfinished", Ref{}, nil)
	}
	// Nobody is told to drive on while something that could hurt was never
	// looked at: one wrong answer may have led the talk past it.
	for _, u := range as.out.NotChecked {
		if u.Kind == "cause" && as.out.Ended {
			add(Care, "not-checked", Ref{}, u.Cause)
		}
	}
	order := map[string]int{"cause": 0, "answer": 1, "look-failed": 2, "look-open": 3, "unsure": 4, "no-cause": 5, "unfinished": 6, "not-checked": 7}
	slices.SortStableFunc(rs, func(a, b Reason) int {
		return cmp.Or(cmp.Compare(b.Drive, a.Drive), cmp.Compare(order[a.Kind], order[b.Kind]))
	})
	as.out.Reasons = rs
	if len(rs) > 0 {
		as.out.Drive = rs[0].Drive
	}
}

// traced reports whether a tree that ended came to a cause found or likely.
func (as assessing) traced(r Reached) bool {
	for _, id := range r.End.Likely {
		if f := as.by[id]; f != nil && f.Standing != Unlikely && f.Standing != Possible {
			return true
		}
	}
	for _, v := range as.Visits {
		if !slices.Contains(v.Trees, r.Complaint) {
			continue
		}
		for _, wheel := range v.Wheels {
			f, said := as.facts[key{v.Check.ID, wheel}]
			if !said {
				continue
			}
			for _, id := range f.Answers {
				if a := v.Check.Answer(id); a != nil && len(a.Shows) > 0 {
					return true
				}
			}
		}
	}
	return false
}

// notExplained lists abnormal answers that show no cause and that stand on
// no path to a cause found or likely. A round of checks finds things that have
// nothing to do with one another, so that none explains the rest.
func (as assessing) notExplained() {
	traced := map[string]bool{}
	for _, r := range as.Reached {
		traced[r.Complaint] = !as.book.complaints[r.Complaint].Round && as.traced(r)
	}
	as.given(func(c *Check, k key, a *Answer) {
		if a.Drive == Go && !a.Fails || len(a.Shows) > 0 {
			return
		}
		if i, seen := as.visited[c.ID]; seen && slices.ContainsFunc(as.Visits[i].Trees, func(id string) bool { return traced[id] }) {
			return
		}
		as.out.NotExplained = append(as.out.NotExplained, Ref{k.check, k.wheel, a.ID})
	})
	slices.SortFunc(as.out.NotExplained, compareRefs)
}

// notChecked lists dangerous causes that nothing cleared, then the checks
// that were not done, those that could clear a danger first.
func (as assessing) notChecked() {
	var out []Unchecked
	for _, c := range as.book.Causes {
		if c.Drive != Stop || !as.can(c, "") {
			continue
		}
		if f := as.by[c.ID]; f != nil && (f.Standing == Found || f.Standing == Mended || f.Standing == Unlikely && !as.onceOnly(f)) {
			continue
		}
		out = append(out, Unchecked{Kind: "cause", ID: c.ID, Cause: c, Dangerous: true})
	}
	for _, v := range as.Visits {
		if v.Standing == NotBuilt || v.Standing == Pending {
			continue
		}
		if len(v.Wheels) == 0 {
			out = append(out, Unchecked{Kind: "question", ID: v.Check.ID, Check: v.Check, Standing: v.Standing, Dangerous: as.dangerous(v.Check)})
		}
		for _, wheel := range v.Wheels {
			f, said := as.facts[key{v.Check.ID, wheel}]
			if said && !f.Unsure() {
				continue
			}
			u := Unchecked{Kind: "question", ID: v.Check.ID, Wheel: wheel, Check: v.Check, Standing: v.Standing, Dangerous: as.dangerous(v.Check)}
			if wheel != "" {
				u.Kind = "wheel"
			}
			if said {
				u.Standing = Answered
				if u.How = f.Kind; f.Answers[0] == Later {
					u.How = Later
				}
			}
			out = append(out, u)
		}
	}
	slices.SortStableFunc(out, func(a, b Unchecked) int {
		return cmp.Or(b2i(b.Kind == "cause")-b2i(a.Kind == "cause"), b2i(b.Dangerous)-b2i(a.Dangerous))
	})
	as.out.NotChecked = out
}

// onceOnly reports whether a danger was cleared by one look only although
// there is another of its own, in a talk that ended before its trees did: one
// wrong answer may have cleared it.
func (as assessing) onceOnly(f *Finding) bool {
	if !as.Halted {
		return false
	}
	looked, left := 0, 0
	for _, c := range as.book.CanShow(f.Cause.ID) {
		wheels := as.applying(c)
		switch {
		case len(wheels) == 0:
		case as.worst(c, wheels) != Unsure:
			looked++
		default:
			left++
		}
	}
	return looked < 2 && left > 0
}

// dangerous reports whether a check can show or clear a dangerous cause.
func (as assessing) dangerous(c *Check) bool {
	return slices.ContainsFunc(c.Answers, func(a *Answer) bool {
		return slices.ContainsFunc(slices.Concat(a.Shows, a.Clears), func(id string) bool {
			return as.book.causes[id].Drive == Stop
		})
	})
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
