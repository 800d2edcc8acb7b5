//go:build unix && !race

package main

// promptui and readline race with each other in harmless places, so these
// tests are left out under -race.

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
	"golang.org/x/term"

	"chock/cmd/chock/internal/record"
)

const ttyRows = 32

// A tty is chock in a pseudo-terminal. What it draws goes to a screen of its
// width, and to one so wide that nothing wraps on it: where the two differ, a
// line was wider than the screen.
type tty struct {
	t             *testing.T
	master, slave *os.File
	before        *term.State
	cmd           *exec.Cmd
	vt, wide      vt10x.Terminal
	cols          int
	data          string // where its records go
	mu            sync.Mutex
	raw           bytes.Buffer
	exited        chan error
}

func startTTY(t *testing.T, cols int, args ...string) *tty {
	t.Helper()
	return startProgram(t, cols, "", "chock", args...)
}

// startProgram starts a program in a folder, "" for this one.
func startProgram(t *testing.T, cols int, dir, name string, args ...string) *tty {
	t.Helper()
	t.Parallel() // it spends its time waiting
	master, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: ttyRows, Cols: uint16(cols)}))
	// Without blocking, closing the master hangs up even while it is read.
	fd, err := unix.FcntlInt(master.Fd(), unix.F_DUPFD_CLOEXEC, 0)
	require.NoError(t, err)
	master.Close()
	require.NoError(t, syscall.SetNonblock(fd, true))
	master = os.NewFile(uintptr(fd), "master")
	p := &tty{t: t, master: master, slave: slave, cols: cols, data: t.TempDir(), exited: make(chan error, 1)}
	p.before, err = term.GetState(int(slave.Fd()))
	require.NoError(t, err)
	p.vt = vt10x.New(vt10x.WithSize(cols, ttyRows), vt10x.WithWriter(master))
	p.wide = vt10x.New(vt10x.WithSize(400, ttyRows))
	if dir != "" {
		p.data = filepath.Join(dir, "data")
	}
	p.cmd = exec.Command(name, args...)
	p.cmd.Dir = dir
	p.cmd.Env = append(os.Environ(), "TERM=xterm", "LC_ALL=C.UTF-8", "NO_COLOR=", "XDG_DATA_HOME="+p.data)
	p.cmd.Stdin, p.cmd.Stdout, p.cmd.Stderr = slave, slave, slave
	p.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(t, p.cmd.Start())
	go func() {
		b, half := make([]byte, 4096), 0 // half a rune waits for its rest
		for {
			n, err := master.Read(b[half:])
			p.mu.Lock()
			p.raw.Write(b[half : half+n])
			taken, _ := p.vt.Write(b[:half+n])
			p.wide.Write(b[:taken])
			p.mu.Unlock()
			half = copy(b, b[taken:half+n])
			if err != nil {
				return
			}
		}
	}()
	go func() { p.exited <- p.cmd.Wait() }()
	t.Cleanup(func() {
		p.cmd.Process.Kill()
		slave.Close()
		master.Close()
	})
	return p
}

func (p *tty) send(keys string) {
	p.t.Helper()
	_, err := io.WriteString(p.master, keys)
	require.NoError(p.t, err)
}

// screen is what stands on the screen, its lines without blanks at their end.
func (p *tty) screen() string { return p.draw(p.vt) }

func (p *tty) draw(vt vt10x.Terminal) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var lines []string
	for line := range strings.SplitSeq(vt.String(), "\n") {
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return strings.TrimRight(strings.Join(lines, "\n"), "\n")
}

// words is the screen as one line, so that a text is found where it wraps.
func (p *tty) words() string { return strings.Join(strings.Fields(p.screen()), " ") }

// shows waits until text stands on the screen, and then until it rests.
func (p *tty) shows(text string) {
	p.t.Helper()
	require.Eventually(p.t, func() bool { return strings.Contains(p.words(), text) }, 10*time.Second, 5*time.Millisecond,
		"wanted %q", text)
	for last := -1; ; time.Sleep(15 * time.Millisecond) {
		p.mu.Lock()
		n := p.raw.Len()
		p.mu.Unlock()
		if n == last {
			break
		}
		last = n
	}
	p.fits()
}

// fits demands that no line is wider than the screen.
func (p *tty) fits() {
	p.t.Helper()
	screen := p.screen()
	require.Equal(p.t, p.draw(p.wide), screen, "a line is wider than %d columns", p.cols)
	for line := range strings.Lines(screen) {
		require.LessOrEqual(p.t, runewidth.StringWidth(strings.TrimRight(line, "\n")), p.cols)
	}
}

// once demands that every text stands on the screen exactly once, and never
// demands that one does not stand there.
func (p *tty) once(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		assert.Equal(p.t, 1, strings.Count(p.words(), text), "%q on\n%s", text, p.screen())
	}
}

func (p *tty) never(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		assert.NotContains(p.t, p.words(), text)
	}
}

// ends waits for the end and demands the exit status, the terminal as it was,
// and a record that is whole; it gives the record.
func (p *tty) ends(code int) *record.Record {
	p.t.Helper()
	select {
	case err := <-p.exited:
		got := 0
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			got = exit.ExitCode()
		}
		assert.Equal(p.t, code, got, "exit status\n%s", p.screen())
	case <-time.After(10 * time.Second):
		require.Fail(p.t, "the program hangs", p.screen())
	}
	after, err := term.GetState(int(p.slave.Fd()))
	require.NoError(p.t, err)
	assert.Equal(p.t, p.before, after, "the terminal's mode")
	time.Sleep(20 * time.Millisecond) // what is on its way to the screen
	p.mu.Lock()
	raw := p.raw.String()
	p.mu.Unlock()
	if i := strings.LastIndex(raw, "\x1b[?25l"); i >= 0 {
		assert.Contains(p.t, raw[i:], "\x1b[?25h", "the cursor")
	}
	assert.NotContains(p.t, raw, "panic")
	assert.NotContains(p.t, raw, "goroutine ")
	files, err := filepath.Glob(filepath.Join(p.data, "chock", "*"))
	require.NoError(p.t, err)
	if len(files) == 0 {
		return nil
	}
	require.Len(p.t, files, 1)
	r, err := record.Load(files[0])
	require.NoError(p.t, err)
	return r
}

// begin goes through the complaint list and the first looks up to the frame.
func (p *tty) begin() {
	p.t.Helper()
	p.shows("Say it in your own words")
	p.once("What does it do?", "1 [ ] Damp, leaking or low fluid", "9 [ ]", "more")
	p.never("n not sure", "▸")
	p.send(listKey(p.t, "pulsation") + "\rd")
	p.shows("None of these")
	p.once("Heard:", "which of these have there been?", "d done", "A new wet spot where it was parked")
	p.never("Say it in your own words")
	p.send("7\rd") // several: ticked, then done
	p.shows("Nothing in a year")
	p.once("= None of these", "What was worked on last")
	p.never("A new wet spot")
	p.send("1\r2\rd")
	p.shows("they differ")
	p.once("= Wheels or tyres were off", "= Pads or calipers", "what do you find?", "all: Dry")
	p.never("Nothing in a year")
	p.send("d") // they differ: wheel by wheel
	p.shows("left front:")
	p.never("they differ")
	p.send("6\r")
	p.shows("right front:")
	p.once("= left front: Dry")
	p.send("5\r")
	p.shows("left rear:")
	p.once("= right front: An old stain, dry now")
	p.send("6\r")
	p.shows("right rear:")
	p.send("6\r")
	p.shows("Under the master cylinder and along every pipe")
	p.shows("Oily, it beads with water")
	p.once("= right rear: Dry", "Oily, it beads with water")
}

// listKey is what moves to a complaint in the list.
func listKey(t *testing.T, id string) string {
	i := slices.Index(complaintsOf(loadBook(t)), id)
	require.GreaterOrEqual(t, i, 0)
	return string("123456789efghijkpruvxyz"[i])
}

var begun = []string{"since-last-drive", "last-work", "wheel-wet", "wheel-wet", "wheel-wet", "wheel-wet"}

func ids(r *record.Record) (ids []string) {
	for _, a := range r.Answers {
		ids = append(ids, a.ID)
	}
	return ids
}

// The whole talk on a terminal, begun as `chock`, at four widths; then Ctrl-C.
func TestTerminal(t *testing.T) {
	for _, cols := range []int{40, 60, 80, 100} {
		t.Run(strconv.Itoa(cols), func(t *testing.T) {
			p := startTTY(t, cols)
			p.begin()
			p.send("w") // why, by its letter
			p.shows("Pipes rust through")
			p.once("Why this:")
			p.send("ms") // steps, through more
			p.shows("handkerchief and fingers do.")
			p.once("Without tools:", "Oily, it beads with water")
			p.send("t")
			p.shows("note>")
			p.send("tank was wet\r")
			p.shows("Noted.")
			p.once("Oily, it beads with water")
			p.send("\x03")
			r := p.ends(130)
			require.NotNil(t, r)
			assert.Equal(t, begun, ids(r))
			assert.False(t, r.Finished)
			assert.Equal(t, "tank was wet", r.Notes[0].Text)
			assert.Equal(t, []string{"wheels", "pads"}, r.Answers[1].Answer)
			assert.Contains(t, p.words(), "chock talk --resume")
			p.never("Oily, it beads with water")
		})
	}
}

// A signal leaves the terminal usable and the record whole.
func TestTerminalKilled(t *testing.T) {
	for name, sig := range map[string]syscall.Signal{"TERM": syscall.SIGTERM, "HUP": syscall.SIGHUP} {
		t.Run(name, func(t *testing.T) {
			if signal.Ignored(sig) {
				t.Skip("run under nohup, which has it ignored")
			}
			p := startTTY(t, 60)
			p.begin()
			require.NoError(t, p.cmd.Process.Signal(sig))
			r := p.ends(128 + int(sig))
			require.NotNil(t, r)
			assert.Equal(t, begun, ids(r))
		})
	}
	t.Run("KILL", func(t *testing.T) { // loses at most the answer being typed
		p := startTTY(t, 60)
		p.begin()
		p.send("5")
		require.NoError(t, p.cmd.Process.Kill())
		<-p.exited
		files, err := filepath.Glob(filepath.Join(p.data, "chock", "*.yaml"))
		require.NoError(t, err)
		require.Len(t, files, 1)
		r, err := record.Load(files[0])
		require.NoError(t, err)
		assert.Equal(t, begun, ids(r))
	})
}

// The demo goes on by itself; a key ends it, Ctrl-C and a signal too, and
// nothing is kept.
func TestTerminalDemo(t *testing.T) {
	t.Run("key", func(t *testing.T) {
		p := startTTY(t, 60, "talk", "--demo", "--pace", "20000")
		p.shows("> rotors")
		p.send("\x1b[A")
		assert.Nil(t, p.ends(0))
		p.fits()
	})
	t.Run("Ctrl-C", func(t *testing.T) {
		p := startTTY(t, 60, "talk", "--demo", "--pace", "1")
		p.shows("Demo, invented vehicle")
		p.send("\x03")
		assert.Nil(t, p.ends(130))
	})
	t.Run("INT", func(t *testing.T) {
		p := startTTY(t, 60, "talk", "--demo", "--pace", "1")
		p.shows("Demo, invented vehicle")
		require.NoError(t, p.cmd.Process.Signal(syscall.SIGINT))
		assert.Nil(t, p.ends(130))
	})
}

// Another size while a list stands: it is drawn anew, once, and goes on.
func TestTerminalResized(t *testing.T) {
	p := startTTY(t, 80)
	p.begin()
	p.send("8") // chosen, and not yet ticked
	p.shows("▸ 8")
	for _, cols := range []int{44, 100, 60} {
		p.mu.Lock()
		p.cols = cols
		p.vt.Resize(cols, ttyRows)
		p.mu.Unlock()
		require.NoError(t, pty.Setsize(p.master, &pty.Winsize{Rows: ttyRows, Cols: uint16(cols)}))
		time.Sleep(400 * time.Millisecond)
		p.shows("▸ 8")
		p.once("Under the master cylinder and along every pipe", "It runs or drips", "Oily, it beads with water", "more")
	}
	p.send("\rd")
	p.shows("Nowhere, old dirt all over")
	p.once("= Dry and sound, light rust at most", "Where do you see fresh marks of work")
	p.never("Oily, it beads with water")
	p.send("q")
	r := p.ends(0)
	require.NotNil(t, r)
	assert.Equal(t, append(begun[:6:6], "frame-wet"), ids(r))
	assert.Equal(t, []string{"dry"}, r.Answers[6].Answer)
}

// Ctrl-C at the list of complaints: nothing was said, so nothing is saved.
func TestTerminalLeftAtOnce(t *testing.T) {
	p := startTTY(t, 60)
	p.shows("Say it in your own words")
	p.send("\x03")
	assert.Nil(t, p.ends(130))
}

// The complaint in one's own words, and readings on a line that is edited.
func TestTerminalLine(t *testing.T) {
	p := startTTY(t, 60)
	p.shows("Say it in your own words")
	p.send("o\rd")
	p.shows("= Say it in your own words")
	p.send("it is green\r")
	p.shows("None of the complaints goes with that")
	p.send("o\rd") // the list again, and words again
	p.send("it shuddr\x7fers at 60\r")
	p.shows("None of these")
	p.once("Heard:")
	p.send("\x04")
	r := p.ends(1)
	require.NotNil(t, r)
	assert.Empty(t, r.Answers)
}

// Plain lines on a terminal: nothing is drawn, and Ctrl-C saves as well.
func TestTerminalPlain(t *testing.T) {
	p := startTTY(t, 40, "--plain")
	p.shows("A number, several numbers, or your own words.")
	p.send("7\n")
	p.shows("None of these")
	p.send("none\n")
	p.shows("Nothing in a year")
	p.once("= None of these")
	p.send("\x03")
	r := p.ends(130)
	require.NotNil(t, r)
	assert.Equal(t, []string{"since-last-drive"}, ids(r))
	assert.NotContains(t, p.raw.String(), "\x1b[2J")
	assert.NotContains(t, p.raw.String(), "\x1b[?25l")
}

// Every line of a whole talk, with its plots and its page, fits the screen.
func TestTerminalPage(t *testing.T) {
	data, err := os.ReadFile("../../testdata/scripts/sound.yaml")
	require.NoError(t, err)
	answers := filepath.Join(t.TempDir(), "answers.yaml")
	changed := strings.ReplaceAll(string(data), "1.2012, 1.2011", "1.2032, 1.2031") // a thickness that varies
	require.NoError(t, os.WriteFile(answers, []byte(changed), 0o600))
	for _, cols := range []int{40, 60, 80, 100} {
		t.Run(strconv.Itoa(cols), func(t *testing.T) {
			p := startTTY(t, cols, "talk", "--answers", answers)
			r := p.ends(0)
			require.NotNil(t, r)
			assert.True(t, r.Finished)
			p.mu.Lock()
			raw := colours.ReplaceAllString(p.raw.String(), "")
			p.mu.Unlock()
			assert.NotContains(t, raw, "\x1b[2", "nothing is drawn over")
			assert.Contains(t, raw, "Have it verified")
			for line := range strings.SplitSeq(raw, "\n") {
				line = strings.TrimRight(line, "\r")
				if !strings.Contains(line, p.data) { // the name of the record is one word
					assert.LessOrEqual(t, runewidth.StringWidth(line), cols, "%q", line)
				}
			}
		})
	}
}

var colours = regexp.MustCompile(`\x1b\[[0-9;]*m|\x1b\[\?25h`)
