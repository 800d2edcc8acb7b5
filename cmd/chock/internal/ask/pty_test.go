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
	"golang.org/x/term"
)

// A child is this test binary, started again inside a pseudo-terminal.
func TestMain(m *testing.M) {
	if name := os.Getenv("ASK_CHILD"); name != "" {
		s, err := Open(Terminal{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Color: "never",
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

func report(r Reply, err error) {
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
	master, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: uint16(rows), Cols: uint16(cols)}))
	p := &tty{t: t, master: master, slave: slave, out: filepath.Join(t.TempDir(), "reply"), exited: make(chan error, 1)}
	p.before, err = term.GetState(int(slave.Fd()))
	require.NoError(t, err)
	p.vt = vt10x.New(vt10x.WithSize(cols, rows), vt10x.WithWriter(master))
	p.cmd = exec.Command(os.Args[0])
	p.cmd.Env = append(os.Environ(), "ASK_CHILD="+child, "ASK_OUT="+p.out, "TERM=xterm", "LC_ALL=C.UTF-8", "NO_COLOR=")
	p.cmd.Env = append(p.cmd.Env, env...)
	p.cmd.Stdin, p.cmd.Stdout, p.cmd.Stderr = slave, slave, slave
	p.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(t, p.cmd.Start())
	go func() {
		b := make([]byte, 4096)
		for {
			n, err := master.Read(b)
			p.mu.Lock()
			p.raw.Write(b[:n])
			p.mu.Unlock()
			p.vt.Write(b[:n])
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
