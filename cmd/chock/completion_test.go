//go:build unix && !race

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The scripts of chock completion in real shells: TAB is pressed, and what
// stands on the screen then is looked at. A shell that is not installed is
// left out, and said.
func TestCompletion(t *testing.T) {
	// bash leaves some of the work to a package that need not be installed. Its
	// one function that is wanted, in short:
	bash := `_get_comp_words_by_ref() { cur=${COMP_WORDS[COMP_CWORD]}; prev=${COMP_WORDS[COMP_CWORD-1]}; words=("${COMP_WORDS[@]}"); cword=$COMP_CWORD; }; `
	if _, err := os.Stat("/usr/share/bash-completion/bash_completion"); err == nil {
		bash = ". /usr/share/bash-completion/bash_completion; "
	}
	for _, sh := range []struct{ name, args, ready string }{
		{"bash", "--norc --noprofile -i", bash + "source <(chock completion bash); PS1='% '; echo rea''dy\n"},
		{"zsh", "-f -i", "PS1='%% '; autoload -U compinit; compinit -u -D; source <(chock completion zsh); echo rea''dy\n"},
	} {
		t.Run(sh.name, func(t *testing.T) {
			if _, err := exec.LookPath(sh.name); err != nil {
				t.Skipf("%s is not installed here", sh.name)
			}
			dir := completionFolder(t)
			p := startProgram(t, 100, dir, sh.name, strings.Fields(sh.args)...)
			p.send(sh.ready)
			p.shellShows("ready")
			for _, tt := range []struct{ typed, want string }{
				{"chock compl", "chock completion"},
				{"chock talk pulsa", "chock talk pulsation"},
				{"chock sheet wears", "chock sheet wears-fast"},
				{"chock report bef", "chock report before.yaml"},
				{"chock report kep", "chock report kept.yaml"},
				{"chock compare before.yaml aft", "chock compare before.yaml after.yaml"},
				{"chock talk --resume bef", "chock talk --resume before.yaml"},
				{"chock record delete kep", "chock record delete kept.yaml"},
				{"chock report --format mark", "chock report --format markdown"},
				{"chock talk --units met", "chock talk --units metric"},
				{"chock report --vehicle blu", `chock report --vehicle blue\ pickup`},
			} {
				p.send("\x15" + tt.typed + "\t") // Ctrl-U: an empty line
				p.shellShows(tt.want)
			}
			p.send("\x15exit\n")
		})
	}
	t.Run("fish", func(t *testing.T) {
		if _, err := exec.LookPath("fish"); err != nil {
			t.Skip("fish is not installed here")
		}
		dir := completionFolder(t)
		offers := func(line string) string {
			cmd := exec.Command("fish", "--no-config", "-c", "chock completion fish | source; complete -C '"+line+"'")
			cmd.Dir = dir
			cmd.Env = append(os.Environ(), "XDG_DATA_HOME="+filepath.Join(dir, "data"), "HOME="+dir)
			var errOut bytes.Buffer
			cmd.Stderr = &errOut
			out, err := cmd.Output()
			require.NoError(t, err, errOut.String())
			return string(out)
		}
		assert.Contains(t, offers("chock talk pulsa"), "pulsation\tThe pedal")
		assert.Contains(t, offers("chock report "), "before.yaml\n")
		assert.Contains(t, offers("chock report "), "kept.yaml\n")
		assert.NotContains(t, offers("chock report "), "notes")
		assert.Equal(t, "after.yaml\n", offers("chock compare before.yaml aft"))
		assert.Contains(t, offers(`chock report --vehicle `), "blue pickup")
		assert.Equal(t, "metric\n", offers("chock talk --units met"))
	})
	t.Run("powershell", func(t *testing.T) {
		if _, err := exec.LookPath("pwsh"); err != nil {
			t.Skip("PowerShell is not installed here")
		}
		out, err := exec.Command("pwsh", "-NoProfile", "-Command",
			"chock completion powershell | Out-String | Invoke-Expression; (TabExpansion2 'chock talk pulsa' 16).CompletionMatches.CompletionText").CombinedOutput()
		require.NoError(t, err, string(out))
		assert.Contains(t, string(out), "pulsation")
	})
}

// completionFolder has two records in it, another YAML file, and a third
// record where chock keeps them.
func completionFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	rec := "schema: 1\nprogram: chock 0.1\nvehicle: blue pickup\nend: chock\n"
	for name, data := range map[string]string{"before.yaml": rec, "after.yaml": rec, "notes.yaml": "what: milk\n", "data/chock/kept.yaml": rec} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, []byte(data), 0o600))
	}
	return dir
}

// shellShows waits for text on the screen of a shell, whose prompt may be
// wider than the screen for a moment.
func (p *tty) shellShows(text string) {
	p.t.Helper()
	for end := time.Now().Add(20 * time.Second); !strings.Contains(p.words(), text); time.Sleep(10 * time.Millisecond) {
		require.True(p.t, time.Now().Before(end), "wanted %q in\n%s", text, p.screen())
	}
}

// The manual pages are read by the program that reads them.
func TestManualPages(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	require.NoError(t, run([]string{"man", dir}, strings.NewReader(""), &out, &out))
	pages, err := filepath.Glob(filepath.Join(dir, "*.1"))
	require.NoError(t, err)
	require.Greater(t, len(pages), 20)
	for _, page := range pages {
		data, err := os.ReadFile(page)
		require.NoError(t, err)
		for _, want := range []string{"\n.SH NAME\n", "\n.SH SYNOPSIS\n", "\n.SH DESCRIPTION\n"} {
			assert.Contains(t, string(data), want, page)
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			if strings.HasPrefix(line, ".") {
				assert.Regexp(t, `^\.(TH|SH|TP|PP|B|BR|nf|fi)\b`, line, page)
			}
		}
	}
	if _, err := exec.LookPath("mandoc"); err != nil {
		t.Skip("mandoc is not installed here; the pages are only read by their lines")
	}
	lint, err := exec.Command("mandoc", append([]string{"-Tlint", "-Werror"}, pages...)...).CombinedOutput()
	assert.NoError(t, err, string(lint))
}
