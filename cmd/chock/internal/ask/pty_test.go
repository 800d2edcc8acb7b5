//go:build unix && !race

package ask

// promptui and readline race with each other in harmless places, so these
// tests are left out under -race.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// A child is this test binary, started again inside a pseudo-terminal.
func TestMain(m *testing.M) {
	if name := os.Getenv("ASK_CHILD"); name != "" {
		s, err := Open(Terminal{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Color: os.Getenv("ASK_COLOR"),
			Plain: os.Getenv("ASK_PLAIN") != "", JSON: os.Getenv("ASK_JSON") != ""})
		if err != nil {
			panic(err)
		}
		func() {
			defer s.Close()
			s.OnStop(func() { report(Reply{}, errors.New("stopped")) })
			report(children[name](s))
		}()
		fmt.Println("bye")
		os.Exit(0)
	}
	os.Exit(m.Run())
}

type outcome struct {
	Reply Reply
	Err   string
}

var reporting sync.Mutex // OnStop has a goroutine of its own

func report(r Reply, err error) {
	reporting.Lock()
	defer reporting.Unlock()
	o := outcome{Reply: r}
	if err != nil {
		o.Err = err.Error()
	}
	data, _ := json.Marshal(o)
	os.WriteFile(os.Getenv("ASK_OUT"), data, 0o600)
}

var children = map[string]func(*Session) (Reply, error){
	"case": func(s *Session) (Reply, error) {
		i, _ := strconv.Atoi(os.Getenv("ASK_CASE"))
		return put(s.Asker, conformance[i].q, conformance[i].f)
	},
	"drips": func(s *Session) (Reply, error) {
		s.Screen.Print(Strong, "Under the bonnet, 2 min")
		s.Screen.Print(Plain, "Look along the brake line from the master cylinder to the frame, with a lamp. What do you see?")
		return s.Asker.Choose(drips)
	},
	"long": func(s *Session) (Reply, error) { return s.Asker.Choose(long) },
	"tall": func(s *Session) (Reply, error) {
		q := Question{ID: "tall"}
		for i := range 30 {
			q.Choices = append(q.Choices, Choice{ID: fmt.Sprintf("item-%c%d", 'a'+i/10, i%10)})
		}
		return s.Asker.Choose(q)
	},
	"two": func(s *Session) (Reply, error) {
		r, err := s.Asker.Choose(drips)
		if err != nil {
			return r, err
		}
		r2, err := s.Asker.Line(dial)
		r.Text = r2.Text
		return r, err
	},
	"line": func(s *Session) (Reply, error) {
		f := dial
		f.Current = "4 5 6"
		return s.Asker.Line(f)
	},
	"panic": func(s *Session) (Reply, error) {
		f := dial
		f.Check = func(string) error { panic("cannot check this") }
		return s.Asker.Line(f)
	},
	"helps": func(s *Session) (Reply, error) {
		s.Screen.Print(Plain, "What helps the pedal?")
		return s.Asker.Choose(helps)
	},
	"busy": func(s *Session) (Reply, error) {
		fmt.Println("busy")
		time.Sleep(20 * time.Second)
		return Reply{}, nil
	},
	"why": func(s *Session) (Reply, error) { // asks again after why, as the talk does
		for {
			r, err := s.Asker.Choose(corners)
			if r.Word != Why {
				return r, err
			}
			s.Screen.Print(Plain, "Because a leak shows there first.")
		}
	},
}

var long = Question{ID: "long", Current: []string{"wet"}, Choices: []Choice{
	{ID: "often", Say: "Yes, the pedal pulsates at every stop from that speed, hot or cold"},
	{ID: "wet", Say: "Only after it has stood in\nthe rain overnight 漢字漢字漢字漢字漢字漢字"},
	{ID: "never", Say: "No, never"},
}}

// A tty is a child and the screen it draws.
type tty struct {
	t             *testing.T
	master, slave *os.File
	before        *term.State
	cmd           *exec.Cmd
	vt            vt10x.Terminal
	out           string
	mu            sync.Mutex
	raw           bytes.Buffer
	exited        chan error
}

func start(t *testing.T, rows, cols int, child string, env ...string) *tty {
	t.Helper()
	t.Parallel() // a child spends its time waiting
	master, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: uint16(rows), Cols: uint16(cols)}))
	// Without blocking, closing the master hangs up even while it is read.
	fd, err := unix.FcntlInt(master.Fd(), unix.F_DUPFD_CLOEXEC, 0)
	require.NoError(t, err)
	master.Close()
	require.NoError(t, syscall.SetNonblock(fd, true))
	master = os.NewFile(uintptr(fd), "master")
	p := &tty{t: t, master: master, slave: slave, out: filepath.Join(t.TempDir(), "reply"), exited: make(chan error, 1)}
	p.before, err = term.GetState(int(slave.Fd()))
	require.NoError(t, err)
	p.vt = vt10x.New(vt10x.WithSize(cols, rows), vt10x.WithWriter(master))
	p.cmd = exec.Command(os.Args[0])
	p.cmd.Env = append(os.Environ(), "ASK_CHILD="+child, "ASK_OUT="+p.out, "TERM=xterm", "LC_ALL=C.UTF-8", "NO_COLOR=", "ASK_COLOR=never")
	p.cmd.Env = append(p.cmd.Env, env...)
	p.cmd.Stdin, p.cmd.Stdout, p.cmd.Stderr = slave, slave, slave
	p.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(t, p.cmd.Start())
	go func() {
		b, half := make([]byte, 4096), 0 // half a rune waits for its rest
		for {
			n, err := master.Read(b[half:])
			p.mu.Lock()
			p.raw.Write(b[half : half+n])
			p.mu.Unlock()
			taken, _ := p.vt.Write(b[:half+n])
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

// waits until the screen shows text.
func (p *tty) shows(text string) {
	p.t.Helper()
	require.Eventually(p.t, func() bool { return strings.Contains(p.vt.String(), text) }, 10*time.Second, 5*time.Millisecond,
		"wanted %q", text)
}

func (p *tty) gone(text string) {
	p.t.Helper()
	require.Eventually(p.t, func() bool { return !strings.Contains(p.vt.String(), text) }, 10*time.Second, 5*time.Millisecond,
		"still there: %q", text)
}

// once demands that every text stands exactly once on the screen.
func (p *tty) once(texts ...string) {
	p.t.Helper()
	screen := p.vt.String()
	for _, text := range texts {
		assert.Equal(p.t, 1, strings.Count(screen, text), "%q on\n%s", text, screen)
	}
}

func (p *tty) bytes() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.raw.String()
}

// ends waits for the child's end and demands that the terminal is as it was.
func (p *tty) ends(code int) outcome {
	p.t.Helper()
	select {
	case err := <-p.exited:
		var exit *exec.ExitError
		got := 0
		if errors.As(err, &exit) {
			got = exit.ExitCode()
		}
		assert.Equal(p.t, code, got, "exit status\n%s", p.vt.String())
	case <-time.After(10 * time.Second):
		require.Fail(p.t, "the program hangs", p.vt.String())
	}
	after, err := term.GetState(int(p.slave.Fd()))
	require.NoError(p.t, err)
	assert.Equal(p.t, p.before, after, "the terminal's mode")
	time.Sleep(20 * time.Millisecond) // what is on its way to the screen
	if i := strings.LastIndex(p.bytes(), "\x1b[?25l"); i >= 0 {
		assert.Contains(p.t, p.bytes()[i:], "\x1b[?25h", "the cursor")
	}
	var o outcome
	if data, err := os.ReadFile(p.out); err == nil {
		require.NoError(p.t, json.Unmarshal(data, &o))
	}
	return o
}

func TestConformancePrompt(t *testing.T) {
	for i, tt := range conformance {
		if tt.keys == "" {
			continue
		}
		t.Run(tt.name, func(t *testing.T) {
			p := start(t, 24, 60, "case", "ASK_CASE="+strconv.Itoa(i))
			if len(tt.q.Choices) > 0 {
				p.shows("more")
			} else {
				p.shows("thou> ")
			}
			p.send(tt.keys) // all at once: what is typed ahead reaches the next prompt
			o := p.ends(0)
			want := outcome{Reply: tt.want}
			if tt.err != nil {
				want.Err = tt.err.Error()
			}
			assert.Equal(t, want, o, p.vt.String())
		})
	}
}

func TestNothingByDefault(t *testing.T) {
	p := start(t, 24, 60, "drips")
	p.shows("more")
	assert.NotContains(t, p.vt.String(), "▸", "nothing is marked before a key")
	p.send("\r")
	p.shows("(Nothing chosen yet: number or arrow)")
	p.send(down)
	p.shows("▸ 1 It drips")
	p.gone("Nothing chosen")
	p.send("3")
	p.shows("▸ 3 Dry")
	p.send("\r")
	o := p.ends(0)
	assert.Equal(t, []string{"dry"}, o.Reply.IDs)
	p.once("What do you see?", "= Dry and dusty", "bye")
	assert.NotContains(t, p.vt.String(), "Damp", "the list is wiped, what was taken stays")
}

// Keys that abort, hang or garble promptui by itself.
func TestHarmlessKeys(t *testing.T) {
	for name, keys := range map[string]string{
		"Delete": "\x1b[3~", "NUL": "\x00", "Tab": "\t", "Ctrl-Z": "\x1a", "Ctrl-\\": "\x1c", "BEL": "\x07", "Ctrl-R": "\x12",
		"Ctrl-L": "\x0c", "Esc": "\x1b", "Alt-x": "\x1bx", "left": "\x1b[D", "F5": "\x1b[15~", "paste marks": "\x1b[200~\x1b[201~",
		"j": "j", "h": "h", "slash": "/", "bad UTF-8": "\xff\xc3(", "a position report": "\x1b[12;40R",
	} {
		t.Run(name, func(t *testing.T) {
			p := start(t, 24, 60, "drips")
			p.shows("more")
			p.send(keys)
			settle(keys)
			p.send("\r")
			p.shows("Nothing chosen yet")
			p.send(keys)
			settle(keys)
			p.send(down + down + down + up + "\r")
			o := p.ends(0)
			assert.Equal(t, []string{"damp"}, o.Reply.IDs)
			assert.NotContains(t, p.bytes(), "\a")
			p.once("What do you see?")
		})
		t.Run(name+" on a line", func(t *testing.T) {
			if len(name) == 1 || name == "slash" || name == "bad UTF-8" {
				t.Skip("may be typed")
			}
			p := start(t, 24, 60, "line")
			p.shows("thou> ")
			p.send(keys)
			settle(keys)
			p.send("0.0" + strings.ReplaceAll(keys, "\x1b[D", ""))
			settle(keys)
			p.send("8\r")
			o := p.ends(0)
			assert.Equal(t, "0.08", o.Reply.Text)
			assert.NotContains(t, p.bytes(), "\a")
		})
	}
}

// settle waits until an Esc is seen to stand alone.
func settle(keys string) {
	if strings.HasSuffix(keys, "\x1b") {
		time.Sleep(2 * loneEscape)
	}
}

func TestArrows(t *testing.T) {
	for keys, want := range map[string]string{
		"\x1bOB\x1bOB":               "damp", // the keypad form of the arrows
		"\x1b[B\x1b[1;5B":            "damp",
		"\x1b[F":                     "", // End is "more"
		"\x1b[F\x1b[H":               "drips",
		"\x1bOF\x1bOH":               "drips",
		"\x1b[4~\x1b[1~":             "drips",
		"\x1b[6~\x1b[5~":             "drips",
		"\x0e\x0e\x0e\x10":           "damp", // Ctrl-N, Ctrl-P; a Windows console sends these
		down + strings.Repeat(up, 9): "drips",
		"12321":                      "drips",
	} {
		t.Run(strconv.Quote(keys), func(t *testing.T) {
			p := start(t, 24, 60, "drips")
			p.shows("more")
			p.send(keys + "\r")
			if want == "" {
				p.shows("w why")
				p.send("q")
				assert.Equal(t, Stop, p.ends(0).Reply.Word)
				return
			}
			assert.Equal(t, []string{want}, p.ends(0).Reply.IDs)
		})
	}
}

func TestEditing(t *testing.T) {
	left, right, home, end, del := "\x1b[D", "\x1b[C", "\x1b[H", "\x1b[F", "\x1b[3~"
	for _, tt := range []struct{ name, keys, want string }{
		{"delete in the middle", "0.0x8" + left + left + del + "\r", "0.08"},
		{"delete at the end", "0.08" + del + "\r", "0.08"},
		{"delete on an empty line", del + "0.08\r", "0.08"},
		{"backspace", "\x7f\x080.09\x088\r", "0.08"},
		{"home and end", ".0" + home + "0" + end + "8\r", "0.08"},
		{"right", "08" + left + left + right + ".0\r", "0.08"},
		{"Ctrl-U", "junk\x150.08\r", "0.08"},
		{"Ctrl-D on a line is no end", "0.0\x048\r", "0.08"},
		{"the earlier answer", up + " 7\r", "4 5 6 7"},
		{"the earlier answer, and away again", "1" + up + down + "\r", "1"},
		{"wide runes", "漢字 µ" + left + left + del + "\r", "漢字µ"},
		{"pasted, with marks", "\x1b[200~1 2 3\x1b[201~\r", "1 2 3"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := start(t, 24, 60, "line")
			p.shows("thou> ")
			p.send(tt.keys)
			assert.Equal(t, tt.want, p.ends(0).Reply.Text, p.vt.String())
			assert.NotContains(t, p.bytes(), "\a")
			p.once("was: 4 5 6")
		})
	}
}

func TestReadAhead(t *testing.T) {
	p := start(t, 24, 60, "two")
	p.shows("more")
	p.send("2\r0.08\r")
	assert.Equal(t, Reply{IDs: []string{"damp"}, Text: "0.08"}, p.ends(0).Reply)
	p.once("thou> 0.08")
}

func TestLongItems(t *testing.T) {
	for _, cols := range []int{40, 60, 80} {
		t.Run(strconv.Itoa(cols), func(t *testing.T) {
			p := start(t, 24, cols, "long")
			p.shows("more")
			for range 4 {
				p.send(down)
			}
			p.send(up + up + up)
			p.shows("▸ 1 Yes")
			p.send(down)
			p.shows("▸ 2 Only")
			p.once("1 Yes, the pedal", "hot or cold", "2 Only after", "3 No, never", "n not sure", "(Number or arrows", "was: ")
			assert.Equal(t, 2, strings.Count(p.vt.String(), "漢字漢字漢字漢字漢字漢字"), "in the earlier answer and in the list")
			p.send("\r")
			assert.Equal(t, []string{"wet"}, p.ends(0).Reply.IDs)
			p.once("= Only after")
		})
	}
}

func TestResize(t *testing.T) {
	p := start(t, 24, 80, "drips")
	p.shows("more")
	p.send(down + down)
	p.shows("▸ 2")
	redraws := 0
	for _, cols := range []int{50, 40, 62} {
		p.vt.Resize(cols, 24)
		require.NoError(t, pty.Setsize(p.master, &pty.Winsize{Rows: 24, Cols: uint16(cols)}))
		redraws++
		require.Eventually(t, func() bool { return strings.Count(p.bytes(), "\x1b[2J") == redraws }, 5*time.Second, 5*time.Millisecond)
		time.Sleep(50 * time.Millisecond)
		p.once("Under the bonnet", "What do you", "1 It drips", "2 Damp", "3 Dry", "(Number or")
		p.send(down)
		p.shows("▸ 3")
		p.once("Under the bonnet", "1 It drips", "2 Damp", "3 Dry", "(Number or")
		p.send(up)
		p.shows("▸ 2")
	}
	p.send("\r")
	assert.Equal(t, []string{"damp"}, p.ends(0).Reply.IDs)
}

func TestResizeOnALine(t *testing.T) {
	p := start(t, 24, 80, "line")
	p.shows("thou> ")
	readings := strings.TrimSpace(strings.Repeat("0.9412 ", 9))
	p.send(readings[:60])
	p.shows(readings[:60])
	p.vt.Resize(40, 24)
	require.NoError(t, pty.Setsize(p.master, &pty.Winsize{Rows: 24, Cols: 40}))
	time.Sleep(3 * lookAgain)
	p.send(readings[60:])
	time.Sleep(50 * time.Millisecond)
	p.once("was: 4 5 6", "thou> ")
	p.send("\r")
	assert.Equal(t, readings, p.ends(0).Reply.Text)
}

func TestTallList(t *testing.T) {
	p := start(t, 12, 60, "tall")
	p.shows("item-a0")
	for i := range 25 {
		p.send(down)
		item := fmt.Sprintf("item-%c%d", 'a'+i/10, i%10)
		require.Eventually(t, func() bool {
			for line := range strings.Lines(p.vt.String()) {
				if strings.Contains(line, "▸") && strings.Contains(line, item) {
					return true
				}
			}
			return false
		}, 5*time.Second, 5*time.Millisecond, item)
	}
	p.send("\r")
	assert.Equal(t, []string{"item-c4"}, p.ends(0).Reply.IDs)
}

func TestLongPaste(t *testing.T) {
	p := start(t, 24, 40, "line")
	p.shows("thou> ")
	readings := strings.TrimSpace(strings.Repeat("0.9412 ", 40))
	p.send(readings)
	time.Sleep(300 * time.Millisecond)
	p.once("was: 4 5 6", "thou> ")
	screen := strings.ReplaceAll(p.vt.String(), "\n", "")
	assert.Equal(t, 1, strings.Count(screen, readings), p.vt.String())
	p.send("\r")
	assert.Equal(t, readings, p.ends(0).Reply.Text)
}

func TestTooLongOnATerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	p := start(t, 24, 80, "line")
	p.shows("thou> ")
	for range 10 {
		p.send(strings.Repeat("7", 500))
	}
	p.send("\r")
	// readline draws the whole line again for every key, so this takes a while.
	require.Eventually(t, func() bool { return strings.Contains(p.vt.String(), "longer than 4096 bytes") }, time.Minute, 20*time.Millisecond)
	p.send("7\r")
	assert.Equal(t, "7", p.ends(0).Reply.Text)
}

func TestInterrupt(t *testing.T) {
	for _, child := range []string{"drips", "line"} {
		for _, plain := range []string{"", "1"} {
			t.Run(child+plain, func(t *testing.T) {
				p := start(t, 24, 60, child, "ASK_PLAIN="+plain)
				p.shows(map[string]string{"drips": "Dry", "line": "thou>"}[child])
				if plain != "" {
					p.shows(">")
				}
				p.send("7" + ctrlC)
				assert.Equal(t, ErrInterrupt.Error(), p.ends(0).Err)
				p.once("bye")
			})
		}
	}
}

func TestSignals(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT} {
		for _, child := range []string{"drips", "line", "busy"} {
			for _, plain := range []string{"", "1"} {
				t.Run(fmt.Sprint(sig, child, plain), func(t *testing.T) {
					if signal.Ignored(sig) {
						t.Skip("run under nohup, which has it ignored")
					}
					p := start(t, 24, 60, child, "ASK_PLAIN="+plain)
					p.shows(map[string]string{"drips": "Dry", "line": ">", "busy": "busy"}[child])
					p.shows(map[string]string{"drips": map[string]string{"": "more", "1": ">"}[plain], "line": ">", "busy": "busy"}[child])
					time.Sleep(20 * time.Millisecond)
					require.NoError(t, p.cmd.Process.Signal(sig))
					if sig == syscall.SIGINT && plain != "" && child != "busy" {
						assert.Equal(t, ErrInterrupt.Error(), p.ends(0).Err)
						return
					}
					assert.Equal(t, "stopped", p.ends(128+int(sig)).Err, "OnStop ran")
				})
			}
		}
	}
}

func TestPanic(t *testing.T) {
	p := start(t, 24, 60, "panic")
	p.shows("thou> ")
	p.send("1\r")
	p.ends(2)
	assert.Contains(t, p.bytes(), "cannot check this")
}

// The terminal goes away: its window is closed, or the line drops.
func TestHangUp(t *testing.T) {
	for _, child := range []string{"drips", "line"} {
		t.Run(child, func(t *testing.T) {
			p := start(t, 24, 60, child)
			p.shows(map[string]string{"drips": "more", "line": "thou> "}[child])
			p.slave.Close()
			p.master.Close()
			select {
			case <-p.exited: // by the signal or by the end of the input, whichever is seen first
			case <-time.After(10 * time.Second):
				t.Fatal("the program hangs")
			}
			data, err := os.ReadFile(p.out)
			require.NoError(t, err)
			assert.Contains(t, string(data), `"IDs":null,"Text":"","Word":""},"Err":"`, "no answer, but an error")
		})
	}
}

// Nobody reads what is written, or it finds no room: an error, not a death.
func TestNowhereToWrite(t *testing.T) {
	read, closed, err := os.Pipe()
	require.NoError(t, err)
	read.Close()
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full here")
	}
	for want, w := range map[string]*os.File{"broken pipe": closed, "no space left": full} {
		cmd := exec.Command(os.Args[0])
		out := filepath.Join(t.TempDir(), "reply")
		cmd.Env = append(os.Environ(), "ASK_CHILD=drips", "ASK_OUT="+out)
		cmd.Stdin, cmd.Stderr = strings.NewReader("3\n"), w
		require.NoError(t, cmd.Run())
		data, err := os.ReadFile(out)
		require.NoError(t, err)
		assert.Contains(t, string(data), want)
		assert.NotContains(t, string(data), "dry")
	}
}

func TestHalfWay(t *testing.T) {
	p := start(t, 30, 60, "why")
	p.shows("m more")
	p.send("d1\r2\r")
	p.shows("= right front: Damp")
	p.send("w")
	p.shows("Because")
	p.shows("m more")
	p.send("3\r3\r") // goes on at the third wheel
	assert.Equal(t, []string{"drips", "damp", "dry", "dry"}, p.ends(0).Reply.IDs)
}

func TestASCII(t *testing.T) {
	p := start(t, 8, 60, "tall", "LC_ALL=C")
	p.shows("item-a0")
	p.send(strings.Repeat(down, 8))
	p.shows("> 8 item-a7")
	for _, r := range p.bytes() {
		require.Less(t, r, rune(0x80))
	}
	p.shows("^ ")
	p.send("\r")
	p.ends(0)
}

func TestColouredList(t *testing.T) {
	for env, want := range map[string]bool{"NO_COLOR=": true, "NO_COLOR=1": false} {
		t.Run(env, func(t *testing.T) {
			p := start(t, 24, 40, "long", "ASK_COLOR=auto", env)
			p.shows("m more")
			p.send(down + down)
			p.shows("▸ 2 Only")
			p.once("(Number or arrows", "1 Yes, the pedal", "2 Only after", "3 No, never")
			assert.Equal(t, want, strings.Contains(p.bytes(), "\x1b[1m▸ 2 Only"))
			p.send("\r")
			assert.Equal(t, []string{"wet"}, p.ends(0).Reply.IDs)
		})
	}
}

// A terminal that can do little gets plain lines.
func TestWhichMaker(t *testing.T) {
	for name, tt := range map[string]struct {
		cols  int
		env   string
		lists bool
	}{
		"usual": {60, "ASK_PLAIN=", true}, "asked for": {60, "ASK_PLAIN=1", false},
		"dumb": {60, "TERM=dumb", false}, "narrow": {19, "ASK_PLAIN=", false}, "just wide enough": {20, "ASK_PLAIN=", true},
		"document": {60, "ASK_JSON=1", true},
	} {
		t.Run(name, func(t *testing.T) {
			p := start(t, 24, tt.cols, "drips", tt.env)
			p.shows("Dry")
			if tt.lists {
				p.shows("m more")
			} else {
				p.shows("> ")
			}
			p.send("3\r")
			assert.Equal(t, []string{"dry"}, p.ends(0).Reply.IDs)
			if !tt.lists {
				assert.NotContains(t, p.bytes(), "\x1b")
			}
		})
	}
}
