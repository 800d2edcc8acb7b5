package hear_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"chock/cmd/chock/internal/hear"
)

var topics = []hear.Topic{
	{ID: "low", Words: []string{"soft", "to floor", "pedal play", "not stop"}, Hints: []string{"pedal"}},
	{ID: "hard", Words: []string{"pedal hard", "hard pedal", "not stop"}, Hints: []string{"pedal", "engine"}},
	{ID: "lamp", Words: []string{"warning light", "light stay on"}, Hints: []string{"light"}},
	{ID: "play", Words: []string{"play", "loose"}, Hints: []string{"wheel"}},
	{ID: "drag", Words: []string{"drag", "stay on", "not release"}, Hints: []string{"hot", "brake"}},
	{ID: "pull", Words: []string{"pull", "drift"}},
	{ID: "hand", Words: []string{"hand brake", "handbrake"}},
	{ID: "shake", Words: []string{"shake", "vibrate"}, Hints: []string{"highway", "not brake"}},
	{ID: "pulse", Words: []string{"pulse", "shudder", "shake", "vibrate"}, Hints: []string{"when brake", "slow"}},
	{ID: "noise", Words: []string{"noise", "squeal", "grind"}},
}

// One ear for all, as in a talk.
var ear = hear.New(topics)

func TestHear(t *testing.T) {
	for _, tt := range []struct {
		text, sure, maybe, because string
	}{
		{"It pulls", "pull", "", "a stem"},
		{"PULLING, drifted", "pull", "", "case and signs"},
		{"the bull was full", "", "", "whole words"},
		{"it pulls and squeals", "pull noise", "", "two things"},

		{"the pedal goes to the floor", "low", "", "a phrase, small words aside"},
		{"it goes to the wooden floor", "low", "", "one word within a phrase"},
		{"it went to a friend's new floor", "", "", "two words within a phrase are too many"},
		{"floor to ceiling", "", "", "the order of a phrase"},
		{"up to. Floor", "", "", "a phrase stays within a sentence"},
		{"play in the pedal", "play", "", "a phrase the other way round is none"},
		{"pedal has play", "low", "", "the longer phrase counts, not the word in it"},
		{"the hand brake drags", "drag hand", "", "a phrase takes its own words only"},
		{"the warning light stays on", "lamp", "", "more about the same takes its words as well"},
		{"the brake stays on", "drag", "", "the same words about something else"},

		{"it shakes", "", "shake pulse", "a word of two complaints"},
		{"it shakes on the highway", "shake", "", "a hint decides"},
		{"it shakes when I brake", "pulse", "", "a hint of two words decides"},
		{"it shakes on the highway when I brake", "", "shake pulse", "hints for both"},
		{"the pedal pulses, it shakes", "pulse", "", "what is heard already explains it"},
		{"does not stop", "", "low hard", "a phrase that says no"},
		{"something about the pedal", "", "low hard", "a hint alone asks"},
		{"pedal and engine", "", "low hard", "so do two"},

		{"no noise", "", "", "no"},
		{"it doesn't pull", "", "", "the short form"},
		{"it doesn’t pull", "", "", "with the mark of a phone"},
		{"without shaking or pulling it squeals", "", "noise", "or goes on with it, and what may be new is asked"},
		{"no squeal on the highway, only when I brake", "", "noise", "only when takes it back"},
		{"without noise but it pulls", "pull", "", "but ends it"},
		{"no noise, it pulls", "", "pull", "after a pause nobody knows: asked"},
		{"no noise. It pulls", "pull", "", "a sentence ends it"},
		{"no noise at all from the rear but under way it pulls", "pull", "", "as does the length"},
		{"it does not only pull", "pull", "", "not only"},
		{"cannot find the noise", "noise", "", "what was not cured is there"},
		{"the squeal never stops", "noise", "", "what stands before it"},
		{"it never stops squealing", "noise", "", "never stops is always"},
		{"won't release", "drag", "", "no belongs to the phrase"},
		{"shakes with the foot off, not braking", "shake", "", "as it does to a hint"},

		{"squeel", "", "noise", "one letter wrong: asked"},
		{"sqeual", "", "noise", "two changed over"},
		{"shuddr", "", "pulse", "one missing"},
		{"grinnding", "", "noise", "one too many"},
		{"pul", "", "", "short words are as they are"},
		{"squeel and it pulls", "pull", "noise", "asked beside what is clear"},
		{"pedel", "", "low hard", "a hint with one letter wrong"},
		{"mulling", "", "", "the first letter is right"},

		{"brake lightly", "", "drag", "an adverb is not the thing"},
		{"", "", "", "nothing"},
		{"?!", "", "", "no word"},
		{"it is what it is", "", "", "small words"},
	} {
		h := ear.Hear(tt.text)
		assert.Equal(t, tt.sure, strings.Join(h.Sure, " "), "%q: %s", tt.text, tt.because)
		assert.Equal(t, tt.maybe, strings.Join(h.Maybe, " "), "%q: %s", tt.text, tt.because)
	}
}

// More than a few are none, unless hints make them few.
func TestFew(t *testing.T) {
	var many []hear.Topic
	for _, id := range strings.Fields("a b c d e f g") {
		many = append(many, hear.Topic{ID: id, Words: []string{"word"}, Hints: []string{"hint"}})
	}
	assert.Empty(t, hear.New(many).Hear("word").Maybe)
	assert.Empty(t, hear.New(many).Hear("hint").Maybe)
	many[3].Hints = []string{"hint", "clue"}
	many[5].Hints = []string{"hint", "clue"}
	assert.Equal(t, []string{"d", "f"}, hear.New(many).Hear("a hint, a clue").Maybe)
	assert.Equal(t, []string{"d", "f"}, hear.New(many).Hear("word and clue").Maybe)
}

// Whatever is typed, what is heard is a topic, heard once, and the same again.
func TestHearAnything(t *testing.T) {
	known := map[string]bool{}
	var words []string
	for _, topic := range topics {
		known[topic.ID] = true
		words = append(append(words, topic.Words...), topic.Hints...)
	}
	words = append(words, "not", "no", "never", "or", "but", ",", ".", "the", "-", "é", "\xff", "doesn't")
	rapid.Check(t, func(r *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(words), rapid.String()), 0, 12).Draw(r, "text"), " ")
		h := ear.Hear(text)
		seen := map[string]bool{}
		for _, id := range append(append([]string{}, h.Sure...), h.Maybe...) {
			assert.True(r, known[id] && !seen[id], "%s in %v", id, h)
			seen[id] = true
		}
		assert.LessOrEqual(r, len(h.Maybe), hear.Few)
		assert.Equal(r, h, ear.Hear(text))
	})
}

func BenchmarkHear(b *testing.B) {
	for b.Loop() {
		hear.New(topics).Hear("the pedal shudders when I slow down from speed, but it does not pull")
	}
}
