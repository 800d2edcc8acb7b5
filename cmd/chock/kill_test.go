//go:build unix

package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// A typist answers a talk of its own process line by line, each when its
// prompt stands there.
type typist struct {
	cmd  *exec.Cmd
	keys io.WriteCloser
	said saying
}

func startTypist(t *testing.T, rec string) *typist {
	t.Helper()
	p := &typist{cmd: exec.Command("chock", "talk", "pedal", "shudders", "--record", rec)}
	p.cmd.Stderr = &p.said
	var err error
	p.keys, err = p.cmd.StdinPipe()
	require.NoError(t, err)
	require.NoError(t, p.cmd.Start())
	return p
}

var promptAt = regexp.MustCompile(`(?m)^[a-z]*> `)

// prompts is how many prompts were shown.
func (p *typist) prompts() int { return len(promptAt.FindAllString(p.said.String(), -1)) }

// asked waits for the n-th prompt.
func (p *typist) asked(n int, gone <-chan struct{}) bool {
	for p.prompts() < n {
		select {
		case <-gone:
			return false
		case <-time.After(time.Millisecond):
		}
	}
	return true
}

// facts are what was said. What readings come to, which is several outcomes,
// changes with the figures that are said later.
func facts(answers []record.Answer) (out []record.Answer) {
	for _, a := range answers {
		if a.Readings != nil || !a.Several && len(a.Answer) > 1 {
			a.Answer, a.Said = nil, nil
		}
		out = append(out, a)
	}
	return out
}

// A program that is killed at any moment loses at most the answer that was
// being typed, and never leaves a record that cannot be read. 20 times, and
// 200 times through a whole talk with
//
//	go test ./cmd/chock -run TestKilledAtRandom -long
func TestKilledAtRandom(t *testing.T) {
	script, err := txtar.ParseFile(filepath.Join(root, "testdata", "scripts", "stop_resume.txtar"))
	require.NoError(t, err)
	var lines []string
	for _, f := range script.Files {
		if f.Name == "whole" {
			lines = strings.Split(strings.TrimSpace(string(f.Data)), "\n")
		}
	}
	lines = lines[:len(lines)-1] // after the last one nothing is asked any more
	runs := 20
	if *long {
		runs = 200
	} else {
		lines = lines[:20]
	}

	// Once without a kill: what is saved while each prompt waits.
	rec := filepath.Join(t.TempDir(), "r.yaml")
	never := make(chan struct{})
	time.AfterFunc(2*time.Minute, func() { close(never) })
	began := time.Now()
	p := startTypist(t, rec)
	saved := []int{0} // by the number of prompts shown
	var whole []record.Answer
	for i := range len(lines) + 1 {
		require.True(t, p.asked(i+1, never), "prompt %d of\n%s", i+1, &p.said)
		n := 0
		if r, err := record.Load(rec); err == nil {
			whole, n = r.Answers, len(r.Answers)
		} else {
			require.ErrorIs(t, err, os.ErrNotExist)
		}
		saved = append(saved, n)
		if i < len(lines) {
			fmt.Fprintln(p.keys, lines[i])
		}
	}
	took := time.Since(began)
	require.NoError(t, p.cmd.Process.Kill())
	_ = p.cmd.Wait()
	require.Greater(t, len(whole), len(lines)-5, "the talk was answered")

	first := slices.IndexFunc(saved, func(n int) bool { return n > 0 }) // the prompt at which something is saved
	var kills, early int
	for i := range runs {
		rec := filepath.Join(t.TempDir(), "r.yaml")
		p := startTypist(t, rec)
		gone := make(chan struct{})
		go func() {
			for k, line := range lines {
				if !p.asked(k+1, gone) {
					return
				}
				if _, err := fmt.Fprintln(p.keys, line); err != nil {
					return // killed
				}
			}
		}()
		// One in four at any moment by the clock, so before the first answer too.
		// How far a talk has come by then is up to the machine, so the others
		// wait for a prompt, and a little more.
		at := time.Duration(rand.Int64N(int64(took)))
		if i%4 != 0 {
			at /= time.Duration(len(lines))
			late := make(chan struct{})
			timer := time.AfterFunc(time.Minute, func() { close(late) })
			n := first + rand.IntN(len(saved)-first)
			require.True(t, p.asked(n, late), "prompt %d of\n%s", n, &p.said)
			timer.Stop()
		}
		time.Sleep(at)
		require.NoError(t, p.cmd.Process.Kill())
		_ = p.cmd.Wait()
		close(gone)

		shown := min(p.prompts(), len(saved)-1)
		r, err := record.Load(rec)
		if os.IsNotExist(err) {
			require.Zero(t, saved[shown], "run %d, killed after %s at prompt %d: no record\n%s", i, at, shown, &p.said)
			early++
			continue
		}
		require.NoError(t, err, "run %d, killed after %s", i, at)
		kills++
		require.GreaterOrEqual(t, len(r.Answers), saved[shown], "run %d, killed after %s at prompt %d: an answer is lost", i, at, shown)
		require.LessOrEqual(t, len(r.Answers), len(whole))
		require.Equal(t, facts(whole[:len(r.Answers)]), facts(r.Answers), "run %d", i)

		// Nothing else stands there but what a write had begun, which is no record.
		files, err := os.ReadDir(filepath.Dir(rec))
		require.NoError(t, err)
		for _, f := range files {
			assert.True(t, f.Name() == "r.yaml" || strings.HasPrefix(f.Name(), ".chock-") && strings.HasSuffix(f.Name(), ".tmp"), f.Name())
		}
		kept, err := record.Folder(filepath.Dir(rec))
		require.NoError(t, err)
		require.Len(t, kept, 1)
		require.NoError(t, kept[0].Err)
		if i%5 == 0 {
			_, said, err := talkTo("stop\n", "--resume", rec)
			require.NoError(t, err)
			assert.Contains(t, said, "Going on with the check of")
		}
	}
	t.Logf("%d runs: %d left a record, %d were killed before the first answer", runs, kills, early)
	require.Greater(t, kills, runs/4, "the kills come within the talk")
}
