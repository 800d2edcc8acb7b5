package main

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"time"
	"unicode"

	"github.com/spf13/cobra"

	"chock/cmd/chock/internal/ask"
	"chock/cmd/chock/internal/record"
)

// The demo is a talk about an invented vehicle whose answers come from a file,
// slowly enough to be read. Beside what is embedded, demo/ holds the answers
// after the repair and the records of both checks.
//
//go:embed demo/vehicle.yaml demo/before-answers.yaml
var demoFiles embed.FS

// demoPace is in words a minute: brisk, since much of a talk is only glanced at.
const demoPace = 600

// errDemoOver is a key that somebody pressed, errDemoCut is Ctrl-C.
var (
	errDemoOver = errors.New("the demo was ended by a key")
	errDemoCut  = errors.New("the demo was ended by Ctrl-C")
)

// demoGoesWith refuses what a demo brings along by itself.
func demoGoesWith(cmd *cobra.Command, f talkFlags, words []string) error {
	if !f.demo {
		if cmd.Flags().Changed("pace") {
			return usage(errors.New("--pace goes with --demo"))
		}
		return nil
	}
	for _, name := range []string{"answers", "rest", "resume", "vehicle", "odometer", "book", "order"} {
		if cmd.Flags().Changed(name) {
			return usagef("--demo has its own vehicle and answers; it does not go with --%s", name)
		}
	}
	switch {
	case len(words) > 0:
		return usage(errors.New("--demo has its own complaints; it does not go with words"))
	case f.pace < 0:
		return usagef("--pace %d: want words a minute, or 0 for no waiting", f.pace)
	}
	return nil
}

// loadDemoCar takes the vehicle of the demo, whose name says that it is invented.
func (t *talker) loadDemoCar() error {
	const name = "demo/vehicle.yaml"
	data, err := demoFiles.ReadFile(name)
	if err != nil {
		return err
	}
	t.carPath = "the demo's vehicle file"
	if t.car, err = record.ParseVehicle(name, data, vehicleSlots(vehicleFigures(t.book))); err != nil {
		return err
	}
	t.vehicle = t.car.Name
	return nil
}

// answersOf reads the answers that a talk was given.
func answersOf(f talkFlags) (*record.Answers, error) {
	if !f.demo {
		return record.LoadAnswers(f.answers)
	}
	const name = "demo/before-answers.yaml"
	data, err := demoFiles.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return record.ParseAnswers(name, data)
}

// beginDemo says what is about to be played and, where somebody watches, sets
// the pace.
func (t *talker) beginDemo(sess *ask.Session, out io.Writer, f talkFlags) error {
	if ask.IsTerminal(out) && !f.json && f.pace > 0 {
		key, err := sess.AnyKey()
		if err != nil {
			return err
		}
		t.pace = paced(f.pace, key)
		t.scr.Pace(t.pace)
	}
	t.scr.Print(ask.Strong, "Demo, invented vehicle. An orchard's delivery pickup shakes when it slows down, and one wheel is black with dust, in the week before the autumn haul. The orchard, the pickup and every figure are made up.")
	if t.pace != nil {
		t.scr.Print(ask.Dim, fmt.Sprintf("It goes on by itself, at %d words a minute. Any key ends it.", f.pace))
	}
	t.scr.Print(ask.Plain, "")
	return nil
}

// paced waits as long as a text takes to read, or until a key is pressed.
func paced(wordsAMinute int, key <-chan byte) func(string) error {
	return func(text string) error {
		select {
		case k := <-key:
			if k == ask.CtrlC {
				return errDemoCut
			}
			return errDemoOver
		case <-time.After(timeToRead(text, wordsAMinute)):
			return nil
		}
	}
}

// timeToRead goes by the letters and marks that stand there: five of them
// make a word.
func timeToRead(text string, wordsAMinute int) time.Duration {
	n := 0
	for _, r := range text {
		if !unicode.IsSpace(r) {
			n++
		}
	}
	return time.Duration(n) * time.Minute / time.Duration(5*wordsAMinute)
}

// endDemo makes of a key a good end, and of Ctrl-C what it is elsewhere.
func (t *talker) endDemo(err error) error {
	switch {
	case errors.Is(err, errDemoOver):
		return nil
	case errors.Is(err, errDemoCut):
		return exit{130, errors.New("interrupted")}
	}
	return err
}
