package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/cmd/chock/internal/record"
)

// talkTo runs a talk that is told lines, and gives what it said and its error.
func talkTo(lines string, args ...string) (out, errOut string, err error) {
	var o, e bytes.Buffer
	err = run(append([]string{"talk"}, args...), strings.NewReader(lines), &o, &e)
	return o.String(), e.String(), err
}

// finished makes the record of a talk in which nobody was sure of anything,
// which is the longest page there is.
func finished(t *testing.T) string {
	dir := t.TempDir()
	answers, rec := filepath.Join(dir, "answers.yaml"), filepath.Join(dir, "finished.yaml")
	require.NoError(t, os.WriteFile(answers, []byte("complaints: [pulsation]\n"), 0o600))
	_, _, err := talkTo("", "--answers", answers, "--rest", "unsure", "--record", rec)
	require.NoError(t, err)
	return rec
}

var errFull = errors.New("no space left on device")

// A failing writer takes whole writes until its turn; from then on it fails,
// or only that once.
type failing struct {
	buf       bytes.Buffer
	calls, at int
	once      bool
	half      bool // of the write that fails, take a half
}

func (f *failing) Write(b []byte) (int, error) {
	n := f.calls
	f.calls++
	if n < f.at || f.once && n > f.at {
		return f.buf.Write(b)
	}
	if f.half {
		n, _ := f.buf.Write(b[:len(b)/2])
		return n, errFull
	}
	return 0, errFull
}

// A writer that fails at each of its calls in turn: never a panic, never exit
// status 0 with part of the output, and the record is whole.
func TestFailingOutput(t *testing.T) {
	rec := finished(t)
	before, err := os.ReadFile(rec)
	require.NoError(t, err)
	for _, args := range [][]string{
		{"talk", "--resume", rec},
		{"talk", "--resume", rec, "--json"},
		{"calc", "rotor", "--thickness", "1.201 1.202 1.203 1.202 1.201 1.2 1.2 1.201", "--unit", "in"},
		{"calc", "rotor", "--thickness", "1.201 1.202 1.203 1.202 1.201 1.2 1.2 1.201", "--unit", "in", "--json"},
		{"report", rec}, {"report", "--vehicle", "blue pickup", "--folder", "../../docs"},
		{"compare", "../../docs/before-record.yaml", "../../docs/after-record.yaml"},
		{"record", "list", "--folder", "../../docs"}, {"record", "list", "--json", "--folder", "../../docs"},
		{"sources"}, {"sources", "--json"}, {"tree", "list"}, {"tree", "list", "--json"}, {"tree", "check"}, {"version"},
	} {
		t.Run(strings.Join(args[:min(2, len(args))], " ")+args[len(args)-1], func(t *testing.T) {
			var whole failing
			whole.at = 1 << 30
			require.NoError(t, run(args, strings.NewReader(""), &whole, io.Discard))
			require.NotZero(t, whole.calls)
			step := max(1, whole.calls/15)
			for at := 0; at < whole.calls; at += step {
				for _, w := range []*failing{{at: at}, {at: at, once: true}, {at: at, half: true}} {
					err := run(args, strings.NewReader(""), w, io.Discard)
					assert.Error(t, err, "call %d of %d failed", at, whole.calls)
				}
			}
		})
	}
	after, err := record.Load(rec)
	require.NoError(t, err)
	assert.True(t, after.Finished)
	now, _ := os.ReadFile(rec)
	assert.Equal(t, timeless(string(before)), timeless(string(now)))
}

// The same for the stream of the prompts. What nobody could read has no answer,
// and what was answered before is in the record.
func TestFailingPrompts(t *testing.T) {
	lines := "none\nwhy\nbanana\nlater\nall dry\nstop\n"
	for _, json := range []bool{false, true} {
		calls, step := 1, 1
		if json {
			step = 5
		}
		for at := 0; at < calls; at += step {
			dir := t.TempDir()
			rec := filepath.Join(dir, "r.yaml")
			args := []string{"talk", "shudders", "--record", rec}
			if json {
				args = append(args, "--json")
			}
			w := &failing{at: at}
			if at == 0 {
				whole := &failing{at: 1 << 30}
				require.NoError(t, run(args, strings.NewReader(lines), io.Discard, whole))
				require.NoError(t, os.Remove(rec))
				calls = whole.calls
			}
			var out bytes.Buffer
			err := run(args, strings.NewReader(lines), &out, w)
			if err == nil && json {
				_, err := readTalk(out.String())
				assert.NoError(t, err, "call %d of %d failed", at, calls)
			}
			if at < calls*3/4 {
				assert.Error(t, err, "call %d of %d failed", at, calls)
			}
			if _, err := os.Stat(rec); err == nil {
				_, err := record.Load(rec)
				assert.NoError(t, err, "call %d of %d failed", at, calls)
			}
			left, err := filepath.Glob(filepath.Join(dir, ".*"))
			require.NoError(t, err)
			assert.Empty(t, left, "no temporary file stays")
		}
	}
}

// A line of a megabyte is refused in a few words, and the question stands.
func TestLongLine(t *testing.T) {
	rec := filepath.Join(t.TempDir(), "r.yaml")
	long := strings.Repeat("x", 1<<20)
	start := time.Now()
	_, said, err := talkTo("none\n"+long+"\nnothing\nnote "+long+"\nall dry\nstop\n", "shudders", "--record", rec)
	require.NoError(t, err)
	assert.Less(t, time.Since(start), 5*time.Second)
	assert.Equal(t, 2, strings.Count(strings.Join(strings.Fields(said), " "), "That line is longer than 4096 bytes"))
	assert.Less(t, len(said), 20_000)
	r, err := record.Load(rec)
	require.NoError(t, err)
	assert.Empty(t, r.Notes)
	var ids []string
	for _, a := range r.Answers {
		ids = append(ids, a.ID)
	}
	assert.Contains(t, ids, "wheel-wet")
}

// Control characters are kept as they were typed, shown, and never obeyed.
func TestControlCharacters(t *testing.T) {
	rec := filepath.Join(t.TempDir(), "r.yaml")
	note := "red \x1b[31mpaint\x07 \x00\x08 \u202eover\u2028\u009b2J"
	_, said, err := talkTo("none\nnote "+note+"\n\x1b[2J\nnothing\r\nstop\n", "shudders", "--record", rec)
	require.NoError(t, err)
	page, more, err := talkTo(strings.Repeat("not sure\n1\n", 60), "--resume", rec)
	require.NoError(t, err)
	for _, text := range []string{said, more, page} {
		for _, r := range text {
			if r != '\n' && (r < ' ' || 0x7f <= r && r < 0xa0 || r == 0x202e || r == 0x2028) {
				require.Failf(t, "a control character reached the screen", "%q in %.300q", r, text)
			}
		}
	}
	r, err := record.Load(rec)
	require.NoError(t, err)
	require.Len(t, r.Notes, 1)
	assert.Equal(t, strings.TrimSpace(note), r.Notes[0].Text)
	assert.Contains(t, page, "paint")
	var doc bytes.Buffer
	require.NoError(t, run([]string{"talk", "--resume", rec, "--json"}, strings.NewReader(""), &doc, io.Discard))
	_, err = readTalk(doc.String())
	assert.NoError(t, err)
}

// Two programs on one record: the one that finds it changed leaves it alone
// and goes on beside it.
func TestTwoPrograms(t *testing.T) {
	rec := filepath.Join(t.TempDir(), "r.yaml")
	in, keys := io.Pipe()
	said := &saying{}
	done := make(chan error, 1)
	go func() { done <- run([]string{"talk", "shudders", "--record", rec}, in, io.Discard, said) }()
	fmt.Fprintln(keys, "none")
	said.waitFor(t, "worked on last")

	_, other, err := talkTo("pads\nstop\n", "--resume", rec)
	require.NoError(t, err)
	assert.NotContains(t, other, "nother program")
	theirs, err := os.ReadFile(rec)
	require.NoError(t, err)

	fmt.Fprintln(keys, "nothing")
	said.waitFor(t, "Another program changed the record")
	fmt.Fprintln(keys, "all dry")
	fmt.Fprintln(keys, "stop")
	require.NoError(t, <-done)
	assert.Contains(t, said.String(), "r-2.yaml")
	now, err := os.ReadFile(rec)
	require.NoError(t, err)
	assert.Equal(t, string(theirs), string(now), "the other's record is as the other left it")
	mine, err := record.Load(filepath.Join(filepath.Dir(rec), "r-2.yaml"))
	require.NoError(t, err)
	assert.Len(t, mine.Answers, 2+4)
}

// saying collects what a program says while another goroutine waits for it.
type saying struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *saying) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(b)
}

func (s *saying) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func (s *saying) waitFor(t *testing.T, text string) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Contains(strings.Join(strings.Fields(s.String()), " "), text) },
		10*time.Second, 2*time.Millisecond, "wanted %q in\n%s", text, s)
}

// A reader that goes away: `chock talk ... | head -1`.
func TestClosedPipe(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("pipes break otherwise there")
	}
	rec := finished(t)
	for name, args := range map[string][]string{
		"the page":  {"--resume", rec},
		"the JSON":  {"--resume", rec, "--json"},
		"the talk":  {"shudders", "--record", filepath.Join(t.TempDir(), "new.yaml")},
		"list":      nil,
		"--answers": {"--answers", filepath.Join(filepath.Dir(rec), "answers.yaml"), "--rest", "unsure", "--record", filepath.Join(t.TempDir(), "a.yaml")},
	} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command("chock", append([]string{"talk"}, args...)...)
			if args == nil {
				cmd = exec.Command("chock", "tree", "list")
			}
			cmd.Stdin = strings.NewReader(strings.Repeat("not sure\n1\n", 60))
			r, w, err := os.Pipe()
			require.NoError(t, err)
			var said bytes.Buffer
			cmd.Stdout, cmd.Stderr = w, &said
			if name == "the talk" { // 2>&1: prompts go down the same pipe
				cmd.Stderr = w
			}
			require.NoError(t, cmd.Start())
			w.Close()
			line, _ := bufio.NewReaderSize(r, 16).ReadString('\n')
			r.Close()
			err = cmd.Wait()
			t.Log(line, err, said.String())
			assert.NotContains(t, said.String(), "panic")
			assert.NotContains(t, said.String(), "goroutine")
			var exit *exec.ExitError
			if errors.As(err, &exit) {
				assert.NotEqual(t, 2, exit.ExitCode(), "no panic, no wrong usage")
			}
			for _, a := range args {
				if strings.HasSuffix(a, "new.yaml") || strings.HasSuffix(a, "finished.yaml") || strings.HasSuffix(a, "a.yaml") && a != "answers.yaml" {
					if _, err := os.Stat(a); err == nil {
						_, err := record.Load(a)
						assert.NoError(t, err, "the record is whole")
					}
				}
			}
		})
	}
}
