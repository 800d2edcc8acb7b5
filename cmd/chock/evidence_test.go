package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// described is a vehicle that nobody owns, as somebody in the trade would
// describe it. Where an answer names no wheel it is given at all of them.
var described = []struct {
	say     string
	source  string
	heard   string // complaints
	answers string // check=answer, or check@wheel=answer
	leads   string // the likeliest cause
	above   string // causes that must be above 5 in 100
	below   string // causes that must not
}{
	{"takes hold late on one side, then lets go late", "US Army TM 5-4210-230-14&P-1, chapter IV: lines and hoses that are clogged",
		"pull", "tyres=sound pull-when=braking pull-instant=bite light-press=together light-press@front-left=late",
		"", "hose-closed caliper-sticks", "tyre-steers road-slope alignment-off wheel-out-of-balance"},
	{"pulls only rolling, on either side of the road", "common practice",
		"pull", "tyres=sound pull-when=rolling pull-crown=stays wheel-heat=warm",
		"alignment-off", "tyre-steers", "lining-soaked hose-closed road-slope"},
	{"pulls with the slope of the road", "maker's service text on road tests, 2006: level and smooth, both directions (from memory)",
		"pull", "tyres=sound pull-when=rolling pull-crown=follows",
		"road-slope", "", "caliper-sticks lining-soaked"},
	{"pulls until the first stops have dried it", "US Army TM 9-2320-280-10, page 2-146",
		"pull", "pull-when=braking pull-instant=first-stops pull-dried=gone",
		"brakes-were-wet", "", "hose-closed alignment-off"},
	{"pulls when braking, oil runs down a rear wheel", "US Army TM 9-2330-238-14, table 4-2",
		"pull", "wheel-wet=dry wheel-wet@rear-left=oil pull-when=braking",
		"", "oil-at-wheel axle-seal-leaks lining-soaked", "hose-closed tyre-steers"},

	{"shakes only while braking, not with the parking brake alone", "common practice",
		"pulsation", "shake-when=only-braking shake-comes-on=any where-felt=hands,pedal parking-split=smooth",
		"rotor-thickness-varies", "rotor-runs-out", "drum-out-of-round wheel-out-of-balance tyre-coming-apart"},
	{"shakes the seat, and with the parking brake alone", "common practice",
		"pulsation", "shake-when=only-braking shake-comes-on=any where-felt=seat parking-split=pulses",
		"drum-out-of-round", "", "rotor-runs-out wheel-out-of-balance"},
	{"rattles under the foot in hard stops, the lamp proves", "common practice",
		"pulsation", "shake-when=only-braking shake-comes-on=hard-rattle where-felt=pedal antilock-lamp=proves",
		"antilock-at-work", "", "rotor-runs-out drum-out-of-round"},
	{"shook after standing, gone after twenty stops", "common practice",
		"pulsation", "shake-when=only-braking shake-comes-on=after-standing still-after-stops=gone",
		"standing-rust", "", "rotor-thickness-varies drum-out-of-round rotor-hot-spots"},
	{"the pulse came back within a year, the hub was never cleaned", "trade magazine, two articles on brake pulsation, undated copies",
		"pulsation", "shake-when=only-braking coming-back=months fitted-how=dirty",
		"", "rotor-thickness-varies rotor-runs-out hub-not-cleaned", "wheel-out-of-balance shaft-bent"},

	{"shakes in one band, in the hands", "how-to page on tyre vibration, trade text, undated copy",
		"shake-anyway", "tyres=sound wheel-nuts=held rock=none anyway-speed=band anyway-warm=same-warm anyway-throttle=no-change",
		"wheel-out-of-balance", "", "shaft-joint-worn engine-mount-torn tyre-flat-spot"},
	{"thumps at walking pace, the tyres are cracked", "how-to page on tyre vibration, trade text, undated copy",
		"shake-anyway", "tyres=sound tyres@front-left=worn anyway-speed=walking",
		"tyre-coming-apart", "tyre-not-round", "shaft-bent shaft-angle engine-mount-torn"},
	{"shook until the tyres were warm", "common practice",
		"shake-anyway", "anyway-warm=gone-warm", "tyre-flat-spot", "", "shaft-bent wheel-bearing-loose"},
	{"shakes the seat, the more the faster, less in neutral", "US Army TM 5-3805-262-20, paragraph 3-15",
		"shake-anyway", "tyres=sound anyway-speed=grows anyway-felt=seat anyway-throttle=load coast-run=less",
		"shaft-joint-worn", "shaft-angle", "steering-joint-loose ball-joint-worn tyre-flat-spot"},

	{"the pedal climbs and is firm, the level is right", "US Army TM 9-2320-289-20, table 2-3: rear adjustment, adjusters",
		"low-pedal", "topped-up=never fluid-level=between first-press=fifth-to-third second-press=higher-firm light-hold=stays",
		"shoe-clearance", "adjuster-fails", "pedal-sinks leak-outside air-in-fluid"},
	{"sinks under a light foot, all dry, the level stays", "US Army TB 9-2300-426-20, section II",
		"low-pedal", "wheel-wet=dry frame-wet=dry topped-up=never fluid-level=between second-press=same light-hold=creeps reservoir-again=none",
		"pedal-sinks", "", "leak-outside shoe-clearance air-in-fluid"},
	{"sinks under a light foot, and is topped up every month", "US Army TB 9-2300-426-20, section II",
		"low-pedal", "topped-up=often fluid-level=below-min light-hold=creeps",
		"leak-outside", "", "shoe-clearance mount-loose"},
	{"springy since it was bled", "US Army TB 9-2300-426-20, section II",
		"low-pedal", "last-work=hydraulics,recent second-press=springy bled-how=order light-hold=stays",
		"air-in-fluid", "bleeding-in-doubt", "shoe-clearance adjuster-fails"},
	{"soft on a long hill, firm when cool, the fluid is dark", "common practice",
		"low-pedal", "fluid-level=dark happens-when=descent soft-hot=hot-only light-hold=stays",
		"fluid-boils", "", "pedal-sinks leak-outside mount-loose"},
	{"one low press after a bend, a hint of play", "common practice",
		"low-pedal", "rock=none rock@front-left=barely happens-when=bends",
		"pads-knocked-back", "wheel-bearing-loose", "leak-outside mount-loose"},

	{"one front wheel lets go slowly after a stop", "US Army TM 10-3930-607-15",
		"drag", "drag-when=after-press drag-which=front-one", "caliper-sticks", "hose-closed brake-holds-on", "pushrod-long parking-not-home assist-holds-on"},
	{"all wheels hold on more with every stop, the fluid does not stir", "US Army TM 10-3930-647-14&P, paragraphs 4-22 to 4-24",
		"drag", "drag-when=growing drag-which=every-wheel port-look=still pedal-free=none", "pushrod-long", "", "hose-closed parking-cable-sticks"},
	{"both rear wheels hold on, the lever comes back by hand", "US Army TM 5-4210-230-14&P-1, chapter IV: parking brake",
		"drag", "drag-when=always drag-which=rear-pair lever-home=short", "parking-not-home", "", "hose-closed assist-holds-on"},

	{"the lever goes far, both rears stood far off", "UK DVSA MOT inspection manual, section 1: lever travel; rear shoes before the cable",
		"parking", "parking-travel=over adjust-alike=both-far", "", "shoe-clearance parking-slack", "parking-ratchet-slips parking-cable-sticks"},
	{"squeals rolling, a press stops it", "UK DVSA MOT inspection manual, section 1: pads with a wear indicator",
		"noise", "noise-sound=squeal noise-when=rolling squeal-press=quiet", "pads-low", "", "booster-faulty caliper-loose shoe-clicks"},
	{"grinds all through a stop", "North Carolina 19A NCAC 03D .0532: metal on metal that is heard",
		"noise", "since-last-drive=grinding noise-sound=grind noise-when=braking", "pads-gone", "shoes-gone", "pads-sing booster-faulty"},
	{"clicks as the brake takes hold, a thread in the drum", "maker's service information, 1975, light truck (brand withheld)",
		"noise", "noise-sound=click noise-when=bite shoe-ledges=smooth shoe-ledges@rear-left=thread", "shoe-clicks", "", "pads-gone wheel-bearing-rough"},
	{"hisses as long as the pedal is held", "common practice",
		"noise", "assist-kind=vacuum noise-sound=hiss hiss-pedal=held", "booster-faulty", "", "pads-gone caliper-loose"},

	{"all four linings wear fast, a foot rests on the pedal", "common practice",
		"wears-fast", "wears-where=every-wheel set-lasted=to-15 driving-habits=rests-foot pedal-free=little", "foot-on-pedal", "", "caliper-sticks pads-gone shoes-idle"},
	{"one lining wears fast again, and went in alone", "study guide for technicians, uneven pad wear, undated copy",
		"wears-fast", "wears-where=one-wheel coming-back=months slides=free slides@front-left=stiff", "caliper-sticks", "slides-unsealed", "foot-on-pedal wear-usual"},
	{"one front wheel is caked, its inner pad is thin", "study guide for technicians, uneven pad wear, undated copy",
		"dust", "dust-amount=film dust-amount@front-left=caked pads-measured=lining-enough,pair-alike pads-measured@front-left=lining-enough,inner-thin",
		"caliper-sticks", "", "dust-not-telling parking-cable-sticks"},

	{"the level fell over many months, the pads are low, all dry", "maker's owner's manual, 1995 (brand withheld)",
		"leaks", "wheel-wet=dry frame-wet=dry topped-up=never fluid-level=below-min level-fall=with-pads pressed-look=sound pads-left=enough pads-left@front-left=low",
		"level-by-wear", "fluid-below-mark pads-low", "leak-outside pipe-failing"},
	{"the level falls by the week, fluid at a rear wheel", "US Navy training course, brake inspection, undated copy",
		"leaks", "wheel-wet=dry wheel-wet@rear-left=fluid level-fall=weekly", "wheel-cylinder-leaks", "leak-outside", "axle-seal-leaks shock-leaks lid-weeps"},
	{"the level falls, nothing is wet outside, the booster is", "local-government road-safety column, brake check, 2016",
		"leaks", "assist-kind=vacuum wheel-wet=dry frame-wet=dry topped-up=once level-fall=weekly booster-paper=fluid", "master-leaks-behind", "", "caliper-leaks pipe-failing hose-failing"},

	{"knocks when rocked, not with the brake held", "common practice",
		"play", "rock=none rock@front-left=plain rock-pressed@front-left=gone", "wheel-bearing-loose", "", "ball-joint-worn suspension-loose steering-joint-loose"},
	{"knocks when rocked, with the brake held as well", "common practice",
		"play", "rock=none rock@front-left=plain rock-pressed@front-left=same", "ball-joint-worn", "suspension-loose", "hub-nut-unlocked bearing-slack"},
	{"loose since the bearings were done", "common practice",
		"just-worked", "last-work=hubs,recent work-change=began rock=none rock@front-left=plain", "hub-nut-unlocked", "bearing-not-read", "shoe-clearance air-in-fluid"},
}

// TestEvidence holds the belief against what the trade would say.
func TestEvidence(t *testing.T) {
	b := loadBook(t)
	for _, d := range described {
		t.Run(d.say, func(t *testing.T) {
			require.NotEmpty(t, d.source)
			complaints := strings.Fields(d.heard)
			bl := b.Believe(b.Walk(complaints, told(t, b, d.answers)))
			chance := map[string]float64{}
			for i, c := range b.Causes {
				chance[c.ID] = bl.Causes[i]
			}
			order := sortedKeys(chance)
			slices.SortStableFunc(order, func(x, y string) int { return cmp.Compare(chance[y], chance[x]) })
			list := ""
			for _, id := range order[:8] {
				list += fmt.Sprintf(" %s %.3f", id, chance[id])
			}
			for _, id := range strings.Fields(d.leads + " " + d.above + " " + d.below) {
				_, known := chance[id]
				require.True(t, known, id)
			}
			if d.leads != "" {
				assert.Equal(t, d.leads, order[0], list)
			}
			for _, id := range strings.Fields(d.above) {
				assert.Greater(t, chance[id], 0.05, "%s, of%s", id, list)
			}
			for _, id := range strings.Fields(d.below) {
				assert.Less(t, chance[id], 0.05, "%s, of%s", id, list)
			}
		})
	}
}

// told reads answers in the form of described.
func told(t *testing.T, b *tree.Book, answers string) []tree.Said {
	t.Helper()
	at := map[string]int{}
	var out []tree.Said
	for _, field := range strings.Fields(answers) {
		name, ids, _ := strings.Cut(field, "=")
		id, wheel, _ := strings.Cut(name, "@")
		c := b.Checks[id]
		require.NotNil(t, c, id)
		for _, a := range strings.Split(ids, ",") {
			require.NotNil(t, c.Answer(a), field)
		}
		wheels := []string{wheel}
		if wheel == "" {
			wheels = asked[c.At]
		}
		for _, wheel := range wheels {
			s := sayAt(c, wheel, strings.Split(ids, ",")...)
			if i, again := at[id+wheel]; again {
				out[i] = s
				continue
			}
			at[id+wheel] = len(out)
			out = append(out, s)
		}
	}
	return out
}

// TestEvidenceOfComplaints holds what is believed when a complaint is all that
// was said: nothing is sure yet, and dangers are among what it may be.
func TestEvidenceOfComplaints(t *testing.T) {
	b := loadBook(t)
	for _, c := range b.Complaints {
		bl := b.Believe(b.Walk([]string{c.ID}, nil))
		whole, dangers := bl.Healthy+bl.NotListed, 0
		for i, p := range bl.Causes {
			assert.Less(t, p, 0.40, "%s: %s", c.ID, b.Causes[i].ID)
			whole += p
			if b.Causes[i].Drive == tree.Stop && p > 0.01 {
				dangers++
			}
		}
		// A cause that stands beside another counts at both, so what is over
		// one is the share of two at once.
		assert.InDelta(t, 1.2, whole, 0.2, "%s", c.ID)
		assert.Positive(t, dangers, "%s: a danger is among what it may be", c.ID)
	}
}

// TestEvidenceOfSoundVehicle gives every normal answer: no odds tell a sound
// vehicle not to drive.
func TestEvidenceOfSoundVehicle(t *testing.T) {
	b := loadBook(t)
	for _, complaints := range append(eachAlone(b), complaintsOf(b)) {
		s := talkThrough(t, b, complaints, answers(b, equipped(b)))
		bl := b.Believe(s.walk)
		assert.NotEqual(t, tree.Stop, b.Weigh(s.walk, bl).Drive, "%v", complaints)
		for i, c := range b.Causes {
			if c.Drive == tree.Stop {
				assert.Less(t, bl.Causes[i], 0.05, "%v: %s", complaints, c.ID)
			}
		}
	}
}
