package tree_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

var update = flag.Bool("update", false, "write what the loader says into testdata/badbook; read it before you commit it")

const badbook = "../testdata/badbook/"

// goodBook is the book that every bad one changes a little of.
func goodBook(t testing.TB) fstest.MapFS {
	t.Helper()
	ar, err := txtar.ParseFile(badbook + "good.txtar")
	require.NoError(t, err)
	fsys := fstest.MapFS{}
	for _, f := range ar.Files {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return fsys
}

func TestGoodBook(t *testing.T) {
	_, err := tree.Load(goodBook(t), calcs)
	require.NoError(t, err)
}

// Every file in testdata/badbook holds one thing that the loader refuses, and
// the whole text with which it does.
func TestBadBooks(t *testing.T) {
	names, err := filepath.Glob(badbook + "*.txtar")
	require.NoError(t, err)
	for _, name := range names {
		if filepath.Base(name) == "good.txtar" {
			continue
		}
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			ar, err := txtar.ParseFile(name)
			require.NoError(t, err)
			require.NotEmpty(t, ar.Comment, "say what is bad about it")
			fsys, want := goodBook(t), -1
			for i, f := range ar.Files {
				action, file, _ := strings.Cut(f.Name, " ")
				switch action {
				case "want":
					want = i
				case "remove":
					require.Contains(t, fsys, file)
					delete(fsys, file)
				case "change":
					fsys[file] = &fstest.MapFile{Data: change(t, fsys[file].Data, f.Data)}
				default:
					fsys[f.Name] = &fstest.MapFile{Data: f.Data}
				}
			}
			_, err = tree.Load(fsys, calcs)
			require.Error(t, err)
			got := err.Error() + "\n"
			if *update {
				ar.Files = slices.DeleteFunc(ar.Files, func(f txtar.File) bool { return f.Name == "want" })
				ar.Files = append(ar.Files, txtar.File{Name: "want", Data: []byte(got)})
				require.NoError(t, os.WriteFile(name, txtar.Format(ar), 0o644))
				return
			}
			require.GreaterOrEqual(t, want, 0, "no section `want`")
			assert.Equal(t, string(ar.Files[want].Data), got)
		})
	}
}

// change applies one section `change FILE`.
func change(t *testing.T, text, how []byte) []byte {
	t.Helper()
	var from, to bytes.Buffer
	flush := func() {
		if from.Len() == 0 {
			return
		}
		require.Equal(t, 1, bytes.Count(text, from.Bytes()), "once and together:\n%s", from.String())
		text = bytes.Replace(text, from.Bytes(), to.Bytes(), 1)
		from.Reset()
		to.Reset()
	}
	for line := range bytes.Lines(how) {
		switch {
		case line[0] == '-' && to.Len() > 0:
			flush()
			fallthrough
		case line[0] == '-':
			from.Write(line[1:])
		case line[0] == '+':
			to.Write(line[1:])
		default:
			require.Empty(t, strings.TrimSpace(string(line)), "a line that neither goes nor comes")
		}
	}
	require.NotZero(t, from.Len(), "nothing to take out")
	flush()
	return text
}

// A file too large, and one that nobody can open, are not kept as examples.
func TestBadFiles(t *testing.T) {
	fsys := goodBook(t)
	fsys["causes.yaml"] = &fstest.MapFile{Data: append(fsys["causes.yaml"].Data, bytes.Repeat([]byte("# so long\n"), 110000)...)}
	_, err := tree.Load(fsys, calcs)
	assert.EqualError(t, err, "causes.yaml: larger than 1 MB; split it")

	fsys = goodBook(t)
	pad := append([]byte("questions: {}\n"), bytes.Repeat([]byte("# so long\n"), 100000)...)
	for _, c := range "abcdefghij" {
		fsys["shared/"+string(c)+".yaml"] = &fstest.MapFile{Data: pad}
	}
	_, err = tree.Load(fsys, calcs)
	assert.ErrorContains(t, err, "shared/i.yaml: with this file the book is larger than 8 MB")

	fsys = goodBook(t)
	for i := range 201 {
		fsys["shared/x"+strings.Repeat("x", i)+".yaml"] = &fstest.MapFile{Data: []byte("questions: {}\n")}
	}
	_, err = tree.Load(fsys, calcs)
	assert.EqualError(t, err, "shared: more than 200 files")
}

// More faults than anybody reads are counted.
func TestManyFaults(t *testing.T) {
	fsys := goodBook(t)
	var b strings.Builder
	b.WriteString("causes:\n")
	for i := range 1200 {
		fmt.Fprintf(&b, "  c%d: {}\n", i)
	}
	fsys["causes.yaml"] = &fstest.MapFile{Data: []byte(b.String())}
	_, err := tree.Load(fsys, calcs)
	var faults tree.Faults
	require.ErrorAs(t, err, &faults)
	assert.Equal(t, 1000, len(faults))
	assert.True(t, strings.HasSuffix(err.Error(), "\nand 900 more"))
}
