package main

import (
	"bufio"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/hear"
)

// What people say, with the complaints that must be heard or offered, and those
// that may be taken beside them; "none": the list is shown.
var openings = []struct{ say, must, may string }{
	{"the pedal shudders", "pulsation", ""},
	{"brake pedal goes all the way to the floor", "low-pedal", ""},
	{"my brake pedal is spongy", "low-pedal", ""},
	{"pedal slowly sinks when I wait at a light", "low-pedal", ""},
	{"I have to pump the brakes to get them to work", "low-pedal", ""},
	{"the pedal feels mushy and drops lower every day", "low-pedal", ""},
	{"second press is higher than the first", "low-pedal", ""},
	{"too much pedal travel", "low-pedal", ""},
	{"there's air in the lines I think", "low-pedal", ""},
	{"almost no pedal this morning", "low-pedal", ""},
	{"rock hard pedal and it barely stops", "hard-pedal", "low-pedal fade"},
	{"I have to stand on it with both feet", "hard-pedal", ""},
	{"pedal is really stiff", "hard-pedal", ""},
	{"no power assist", "hard-pedal", ""},
	{"booster is dead", "hard-pedal", ""},
	{"takes a lot of force to slow down", "hard-pedal", ""},
	{"the pedal is like a brick", "hard-pedal", ""},
	{"pedal comes back slowly", "slow-pedal", ""},
	{"brake pedal does not come back up", "slow-pedal", ""},
	{"pedal stays down after I let go", "slow-pedal", "drag"},
	{"have to lift the pedal with my toe", "slow-pedal", ""},
	{"sticky pedal", "slow-pedal", ""},
	{"red brake light on the dash", "lamps", ""},
	{"ABS light stays on", "lamps", ""},
	{"brake warning light flickers over bumps", "lamps", ""},
	{"amber light came on yesterday", "lamps", ""},
	{"the stop lights are always on", "lamps", ""},
	{"check everything before winter", "going-over", ""},
	{"I just bought this truck and want to look it over", "going-over", ""},
	{"annual inspection", "going-over", ""},
	{"general check of all brakes, no complaint", "going-over", ""},
	{"it started after I changed the pads", "just-worked", ""},
	{"squeals since I fitted new pads", "just-worked noise", ""},
	{"after bleeding the pedal is soft", "low-pedal", "just-worked"},
	{"just back from the garage", "just-worked", ""},
	{"I replaced the rotors and it still pulses", "pulsation", "just-worked"},
	{"front wheel has play when I shake it by hand", "play", "shake-anyway"},
	{"something is loose in the front end", "play", ""},
	{"clunk when I brake", "play noise", ""},
	{"wheel bearing feels sloppy", "play", ""},
	{"one wheel gets hot", "drag", ""},
	{"burning smell after driving", "drag", ""},
	{"brakes stuck on", "drag", ""},
	{"brakes won't let go", "drag", ""},
	{"caliper is seized", "drag", ""},
	{"it feels held back and sluggish", "drag", ""},
	{"right rear drum is too hot to touch", "drag", ""},
	{"smoke from the left wheel", "drag", ""},
	{"brakes grab at the first touch", "grab", ""},
	{"wheels lock up too easily", "grab", "drag"},
	{"very touchy brakes", "grab", ""},
	{"it snatches when the pedal is barely touched", "grab", ""},
	{"pulls to the left when braking", "pull", ""},
	{"car drifts right", "pull", ""},
	{"dives left under braking", "pull", ""},
	{"it doesn't stop straight", "pull", ""},
	{"wanders all over the road", "pull", ""},
	{"brakes fade going downhill", "fade", ""},
	{"brakes get weak when hot", "fade", ""},
	{"weak brakes", "fade hard-pedal", ""},
	{"after a long hill there is hardly any brake left", "fade", ""},
	{"braking is poor in the rain", "fade", "hard-pedal"},
	{"hand brake does not hold on a hill", "parking", ""},
	{"parking brake stuck", "parking", ""},
	{"e-brake won't release", "parking", ""},
	{"lever comes up too far", "parking", ""},
	{"it rolls away when parked", "parking", ""},
	{"one front wheel is always dusty", "dust", ""},
	{"pads wear unevenly", "dust", ""},
	{"inner pad worn more than the outer", "dust", ""},
	{"one wheel is black, the other clean", "dust", ""},
	{"pads wear out in 5000 miles", "wears-fast", ""},
	{"goes through pads every few months", "wears-fast", ""},
	{"linings don't last", "wears-fast", ""},
	{"the same fault keeps coming back", "wears-fast", ""},
	{"shakes at 60 mph without braking", "shake-anyway", ""},
	{"vibration on the highway", "shake-anyway", ""},
	{"wobbles at speed, foot off the brake", "shake-anyway", ""},
	{"steering wheel shakes when braking", "pulsation", "shake-anyway"},
	{"it shakes", "shake-anyway pulsation", ""},
	{"warped rotors", "pulsation", ""},
	{"judder on slowing from motorway speed", "pulsation", "shake-anyway"},
	{"squeal", "noise", ""},
	{"grinding from the rear", "noise", ""},
	{"makes a scraping sound", "noise", ""},
	{"metal on metal", "noise", ""},
	{"rattles over bumps", "noise", "play"},
	{"something is not right", "not-right", ""},
	{"the brakes feel funny", "not-right", ""},
	{"pedal feels strange", "not-right low-pedal", ""},
	{"I am worried about the brakes, cannot say why", "not-right", ""},
	{"going on a long trip next week", "long-trip", ""},
	{"towing a trailer over the mountains", "long-trip", ""},
	{"before our holiday", "long-trip", ""},
	{"leaking fluid at the back wheel", "leaks", ""},
	{"fluid level keeps dropping but no leak to be seen", "leaks", ""},
	{"puddle under the car", "leaks", ""},
	{"have to top up the brake fluid", "leaks", ""},
	{"wet inside the tyre", "leaks", ""},

	// Two things, and what is not there.
	{"pulls right and squeals", "pull noise", ""},
	{"pedal is low and one wheel is hot", "low-pedal drag", ""},
	{"no noise but pulls to the right", "pull", ""},
	{"does not pull, just shakes when braking", "pulsation", ""},
	{"without shaking it pulls", "pull", ""},
	{"pedal is low and spongy, no leaks", "low-pedal", ""},
	{"no leaks or noise. hard pedal", "hard-pedal", ""},
	{"it isn't the hand brake, it squeals", "noise", ""},
	{"vibrates, not only when braking", "shake-anyway", ""},

	// Typing errors: asked.
	{"pedl is spungy", "low-pedal", ""},
	{"grindng", "noise", ""},
	{"squeeling", "noise", ""},
	{"shuddr when braking", "pulsation", ""},
	{"leeking", "leaks", ""},

	// Nothing fits.
	{"hello", "none", ""},
	{"I like cheese", "none", ""},
	{"my brakes", "none", ""},
	{"it is red", "none", ""},
	{"which way to the station", "none", ""},
	{"two years old", "none", ""},
}

// holdOpening says what is wrong with what is heard, or nothing.
func holdOpening(ear *hear.Ear, say, must, may string) string {
	h := ear.Hear(say)
	got := strings.Join(h.Sure, " ") + " ? " + strings.Join(h.Maybe, " ")
	fair := strings.Fields(may)
	isFair := func(id string) bool { return slices.Contains(fair, id) }
	switch {
	case must == "none" && (len(h.Sure) > 0 || slices.ContainsFunc(h.Maybe, func(id string) bool { return !isFair(id) })):
		return "want the list, got " + got
	case must == "none":
		return ""
	case must == "-" && !slices.ContainsFunc(slices.Concat(h.Sure, h.Maybe), isFair):
		return "none of " + may + " is heard or offered; got " + got
	}
	must = strings.Trim(must, "- ")
	for _, id := range strings.Fields(must) {
		if !slices.Contains(h.Sure, id) && !slices.Contains(h.Maybe, id) {
			return "not heard nor offered: " + id + "; got " + got
		}
	}
	for _, id := range h.Sure {
		if !slices.Contains(strings.Fields(must+" "+may), id) {
			return "taken without asking: " + id + "; got " + got
		}
	}
	return ""
}

func TestOpenings(t *testing.T) {
	ear := hear.New(topics(loadBook(t)))
	for _, tt := range openings {
		assert.Empty(t, holdOpening(ear, tt.say, tt.must, tt.may), "%q", tt.say)
	}
}

func BenchmarkOpening(b *testing.B) {
	all := topics(loadBook(b))
	for b.Loop() {
		hear.New(all).Hear("the pedal shudders when I slow down from speed")
	}
}

// The phrases of somebody who had not seen the lists (testdata/opening-words.txt).
// Where must is "-", the words are ambiguous between those under may, and one
// of these at least is heard or offered.
func TestOpeningWords(t *testing.T) {
	ear := hear.New(topics(loadBook(t)))
	f, err := os.Open(filepath.Join(root, "testdata/opening-words.txt"))
	require.NoError(t, err)
	defer f.Close()
	rows, right, asked := 0, 0, 0
	for scan := bufio.NewScanner(f); scan.Scan(); {
		line := scan.Text()
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.SplitN(line, "|", 3)
		require.Len(t, cells, 3, line)
		must, may, say := strings.TrimSpace(cells[0]), strings.Trim(cells[1], " -"), strings.TrimSpace(cells[2])
		rows++
		h := ear.Hear(say)
		if len(h.Maybe) > 0 {
			asked++
		}
		wrong := holdOpening(ear, say, must, may)
		if wrong == "" {
			right++
		}
		if reason := openingsLeft[say]; reason != "" {
			assert.NotEmpty(t, wrong, "%q is right now; take it off the list", say)
			continue
		}
		assert.Empty(t, wrong, "%q", say)
	}
	require.Greater(t, rows, 200)
	assert.LessOrEqual(t, len(openingsLeft)*100, rows*5, "more than 5 in 100 left")
	t.Logf("%d of %d right, %d asked about", right, rows, asked)
}

// openingsLeft are phrases that the tool gets wrong, each with the reason why
// that is left.
var openingsLeft = map[string]string{
	"antilock kicks in at 5 mph when coming to a stop on dry road":             "stopping is said with it, which leans to the pedal; that tree asks for the lamp",
	"engine oil drips from the sump":                                           "a drip under a vehicle is looked at before it is left to the engine: the first looks tell oil from fluid",
	"overheats in traffic, coolant all over the engine bay":                    "what overheats in a brake check is a brake, and what was heard is said back",
	"I can move the left front wheel about 1/4 inch in and out at the top":     "two words stand between move and wheel; longer gaps find what nobody said. The list is shown",
	"lots of black dsut on one wheel only and its hot":                         "words of four letters are not corrected: too many others are one letter away",
	"knocking from left front over bumps and when I shake that wheel it moves": "a wheel that moves by hand explains its knock",
	"stiff pedal and poor stopping, pads are new":                              "a stiff pedal explains poor stopping; nothing here says that it comes with heat, load or wet",
}
