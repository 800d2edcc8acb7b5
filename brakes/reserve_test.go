package brakes

import (
	"slices"
	"testing"

	"chock/brakes/unit"
)

func pedalRule(t *testing.T, id string) PedalRule {
	t.Helper()
	rules := PedalRules()
	i := slices.IndexFunc(rules, func(r PedalRule) bool { return r.ID == id })
	if i < 0 {
		t.Fatalf("no rule %s", id)
	}
	return rules[i]
}

func TestPedalReserve(t *testing.T) {
	source, lines := published(t, "pedal-reserve.txt")
	columns := [][]string{{"us-light", "us-light-assisted", "us-heavy", "ohio-assisted", "list"}, {"ohio", "maryland"}, {"maryland-fleet"}, {"uk"}}
	seen := map[string]bool{}
	for _, l := range lines {
		used, _, err := PedalUsed(unit.Length(number(t, l[0])), unit.Length(number(t, l[1])), 0, 0)
		must(t, used, err)
		near(t, l[0]+" "+l[1], used.Percent(), l[2], source)
		for i, ids := range columns {
			for _, id := range ids {
				seen[id] = true
				if got := pedalRule(t, id).Broken(used); got != (l[3+i] == "yes") {
					t.Errorf("%v: %s broken %v, want %s\nsource: %s", l, id, got, l[3+i], source)
				}
			}
		}
	}
	for _, r := range PedalRules() {
		if !seen[r.ID] {
			t.Errorf("no case of %s", r.ID)
		}
	}
}

func TestPedalRulesApply(t *testing.T) {
	ids := func(h Helped, gross unit.Mass) (out []string) {
		for _, r := range PedalRules() {
			if r.Applies(h, gross) {
				out = append(out, r.ID)
			}
		}
		return out
	}
	for _, tt := range []struct {
		helped Helped
		gross  unit.Mass
		want   []string
	}{
		{AnyPedal, 0, []string{"us-light", "us-light-assisted", "us-heavy", "ohio", "ohio-assisted", "maryland", "maryland-fleet", "uk", "list"}},
		{Unassisted, 0, []string{"us-light", "us-heavy", "ohio", "maryland", "maryland-fleet", "uk", "list"}},
		{Assisted, 0, []string{"us-light-assisted", "us-heavy", "ohio-assisted", "maryland", "maryland-fleet", "uk", "list"}},
		// Ten thousand pounds itself is light.
		{Assisted, 10000 * unit.Pound, []string{"us-light-assisted", "ohio-assisted", "maryland", "maryland-fleet", "uk", "list"}},
		{Assisted, 10001 * unit.Pound, []string{"us-heavy", "ohio-assisted", "maryland", "maryland-fleet", "uk", "list"}},
		{Unassisted, 6000 * unit.Pound, []string{"us-light", "ohio", "maryland", "maryland-fleet", "uk", "list"}},
	} {
		if got := ids(tt.helped, tt.gross); !slices.Equal(got, tt.want) {
			t.Errorf("%d, %v: %v, want %v\nsource: 49 CFR 570.5 to 10,000 lb, 570.55 over it; Ohio 4501:2-1-08(B)(2) by assistance", tt.helped, tt.gross, got, tt.want)
		}
	}
}

// A foot that does not fit the rule proves one side only.
func TestPedalRulesFoot(t *testing.T) {
	for _, tt := range []struct {
		id      string
		foot    unit.Force
		fits    int
		low, ok bool // certain where the pedal is low, where it is high
	}{
		{"us-light", 50 * unit.PoundForce, 0, true, true},
		{"us-light", 49 * unit.PoundForce, -1, true, false},
		{"us-light", 51 * unit.PoundForce, 1, false, true},
		{"us-light-assisted", 25 * unit.PoundForce, 0, true, true},
		{"us-light-assisted", 50 * unit.PoundForce, 1, false, true},
		{"us-heavy", 50 * unit.PoundForce, 0, true, true},
		{"us-heavy", 40 * unit.PoundForce, -1, true, false},
		{"ohio", 39 * unit.PoundForce, -1, true, false},
		{"ohio", 40 * unit.PoundForce, 0, true, true},
		{"ohio", 60 * unit.PoundForce, 0, true, true},
		{"ohio", 61 * unit.PoundForce, 1, false, true},
		{"ohio-assisted", 14 * unit.PoundForce, -1, true, false},
		{"ohio-assisted", 15 * unit.PoundForce, 0, true, true},
		{"ohio-assisted", 20 * unit.PoundForce, 0, true, true},
		{"ohio-assisted", 21 * unit.PoundForce, 1, false, true},
		{"maryland", 5 * unit.PoundForce, 0, true, true},
		{"uk", 300 * unit.PoundForce, 0, true, true},
	} {
		r := pedalRule(t, tt.id)
		if got := r.Fits(tt.foot); got != tt.fits {
			t.Errorf("%s with %v: %d, want %d\nsource: %s", tt.id, tt.foot, got, tt.fits, r.FootLeast.Source)
		}
		if low, high := r.Certain(1, tt.foot), r.Certain(0.1, tt.foot); low != tt.low || high != tt.ok {
			t.Errorf("%s with %v: certain %v where low and %v where high, want %v and %v", tt.id, tt.foot, low, high, tt.low, tt.ok)
		}
	}
}

func TestPedalFigures(t *testing.T) {
	const (
		federal = "49 CFR 570.55(b): 125 pounds for 10 seconds, 39 FR 26027, 1974"
		minute  = "Ohio 4501:2-1-08(B)(1) and Maryland COMAR 11.14.09.05: one minute"
		ours    = "our choice, written down in the figure"
	)
	for _, tt := range []struct {
		what   string
		got    float64
		want   string
		source string
	}{
		{"hold", HoldHard.Value.Seconds(), "10.0", federal},
		{"foot of the hold", FootHold.Value.PoundsForce(), "125.0", federal},
		{"long hold", HoldLong.Value.Seconds(), "60.0", minute},
		{"hardest foot of a test", FootMost.Value.PoundsForce(), "150.0", "FMVSS 105 (49 CFR 571.105): 15 to 150 lbf (from memory)"},
		{"vacuum at idle", BoosterVacuum.Value.InchesOfMercury(), "20.0", "US Army Ordnance subcourse OD1001, lesson 3"},
		{"scatter of a pedal", PedalScatter.Value.Millimetres(), "2.00", ours},
		{"mark of a tape", PedalMark.Value.Inches(), "0.250", ours},
		{"pumped, good", PumpedGood.Value.Inches(), "0.500", ours},
		{"pumped, bad", PumpedBad.Value.Inches(), "1.000", ours},
	} {
		near(t, tt.what, tt.got, tt.want, tt.source)
	}
}

func BenchmarkPedalRules(b *testing.B) {
	for b.Loop() {
		for _, r := range PedalRules() {
			if r.Applies(Assisted, 0) && r.Broken(0.9) && !r.Certain(0.9, 100) {
				continue
			}
		}
	}
}
