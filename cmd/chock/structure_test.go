package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// root is the repository, seen from this package.
const root = "../.."

// repoFiles gives the repository's files of that ending, by slashed path.
func repoFiles(t *testing.T, ext string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == ".git" {
			return filepath.SkipDir
		}
		if !d.IsDir() && strings.HasSuffix(path, ext) {
			rel, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			out = append(out, filepath.ToSlash(rel))
		}
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, out, "no %s files below %s", ext, root)
	return out
}

func parseGo(t *testing.T, path string) (*token.FileSet, *ast.File) {
	t.Helper()
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, filepath.Join(root, path), nil, parser.SkipObjectResolution)
	require.NoError(t, err)
	return fset, f
}

// below says which of our own packages a package may import. Each stands on
// what is under it, so that the arithmetic knows no screen, and the tree
// language no brakes.
var below = map[string][]string{
	"brakes/unit":               {},
	"brakes":                    {"brakes/unit"},
	"tree/book":                 {},
	"tree":                      {"brakes/unit"},
	"cmd/chock/internal/ask":    {"brakes/unit"},
	"cmd/chock/internal/calc":   {"brakes", "brakes/unit"},
	"cmd/chock/internal/hear":   {},
	"cmd/chock/internal/record": {"brakes/unit", "cmd/chock/internal/ask"},
	"cmd/chock/internal/report": {"brakes/unit", "cmd/chock/internal/ask", "cmd/chock/internal/record"},
	"cmd/chock": {"brakes", "brakes/unit", "tree", "tree/book", "cmd/chock/internal/ask", "cmd/chock/internal/calc",
		"cmd/chock/internal/hear", "cmd/chock/internal/record", "cmd/chock/internal/report"},
}

// onlyIn confines what is bound to a terminal or to a file format.
var onlyIn = map[string][]string{
	"gopkg.in/yaml.v3":               {"tree", "cmd/chock/internal/record"},
	"github.com/manifoldco/promptui": {"cmd/chock/internal/ask"},
	"github.com/chzyer/readline":     {"cmd/chock/internal/ask"},
	"github.com/fatih/color":         {"cmd/chock/internal/ask"},
	"github.com/spf13/cobra":         {"cmd/chock"},
	"github.com/kljensen/snowball":   {"cmd/chock/internal/hear"},
	// What a test needs and the program must not carry.
	"github.com/stretchr/testify": {}, "pgregory.net/rapid": {}, "gonum.org/v1/gonum": {}, "github.com/creack/pty": {},
	"github.com/hinshun/vt10x": {}, "github.com/rogpeppe/go-internal": {}, "golang.org/x/net": {},
}

// A package that computes or walks has no clock, no files and no streams.
var pure = []string{"brakes/unit", "brakes", "tree"}

func TestImportsGoDown(t *testing.T) {
	for _, path := range repoFiles(t, ".go") {
		dir := filepath.ToSlash(filepath.Dir(path))
		allowed, known := below[dir]
		if !assert.True(t, known, "%s: a package that structure_test.go does not know; say what it may import", path) {
			continue
		}
		isTest := strings.HasSuffix(path, "_test.go")
		_, f := parseGo(t, path)
		for _, spec := range f.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if own, ours := strings.CutPrefix(name, "chock/"); ours {
				// A test stands outside its package, and the book's tests in tree.
				ok := slices.Contains(allowed, own) || isTest && (own == dir || dir == "tree" && own == "tree/book")
				assert.True(t, ok, "%s imports %s, and %s may import only %v", path, name, dir, allowed)
				continue
			}
			if isTest {
				continue
			}
			std := !strings.Contains(strings.Split(name, "/")[0], ".")
			switch dir {
			case "brakes", "brakes/unit", "tree/book":
				assert.True(t, std, "%s imports %s; this package stands on the standard library", path, name)
			case "tree":
				assert.True(t, std || name == "gopkg.in/yaml.v3", "%s imports %s; tree stands on the standard library and yaml", path, name)
			}
			if slices.Contains(pure, dir) {
				assert.NotContains(t, []string{"os", "time", "bufio", "net/http", "math/rand"}, name, "%s: no clock, no files, no streams", path)
			}
			for module, dirs := range onlyIn {
				if name == module || strings.HasPrefix(name, module+"/") {
					assert.Contains(t, dirs, dir, "%s imports %s", path, name)
				}
			}
		}
	}
}

func TestTopLevel(t *testing.T) {
	allowed := []string{"README.md", "DEVELOPERS.md", "LICENSE", "go.mod", "go.sum", ".ci", ".git", ".gitignore",
		"brakes", "cmd", "docs", "testdata", "tree"}
	ignored := []string{"chock", "chock.exe"} // a local build; .gitignore keeps it out
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	for _, e := range entries {
		if !slices.Contains(ignored, e.Name()) && !strings.HasSuffix(e.Name(), ".test") && !strings.HasSuffix(e.Name(), ".out") {
			assert.Contains(t, allowed, e.Name(), "at the top stands only what the README names")
		}
	}
}

var (
	safeWord = regexp.MustCompile(`(?i)\bsafe\b`)
	// An exclamation mark that ends a word or a sentence; a != or a %! is none.
	shout = regexp.MustCompile(`\pL!|!\s*$|!["')]`)
)

// No screen says that a vehicle is safe, and no screen shouts.
func TestNoScreenPromises(t *testing.T) {
	for _, path := range repoFiles(t, ".go") {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		fset, f := parseGo(t, path)
		ast.Inspect(f, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			text, err := strconv.Unquote(lit.Value)
			require.NoError(t, err)
			assert.False(t, safeWord.MatchString(text), "%s says: %q", fset.Position(lit.Pos()), text)
			assert.False(t, strings.HasPrefix(path, "cmd/") && shout.MatchString(text), "%s shouts: %q", fset.Position(lit.Pos()), text)
			return true
		})
	}
	for _, path := range repoFiles(t, ".yaml") {
		if !strings.HasPrefix(path, "tree/book/") {
			continue
		}
		data, err := os.ReadFile(filepath.Join(root, path))
		require.NoError(t, err)
		var doc yaml.Node
		require.NoError(t, yaml.Unmarshal(data, &doc), path)
		var visit func(n *yaml.Node)
		visit = func(n *yaml.Node) {
			if n.Kind == yaml.ScalarNode {
				assert.False(t, safeWord.MatchString(n.Value), "%s:%d says: %s", path, n.Line, n.Value)
				assert.NotContains(t, n.Value, "!", "%s:%d shouts", path, n.Line)
			}
			for i, c := range n.Content {
				// What people say is not what the tool says.
				if n.Kind == yaml.MappingNode && i%2 == 1 && (n.Content[i-1].Value == "words" || n.Content[i-1].Value == "hints") {
					continue
				}
				visit(c)
			}
		}
		visit(&doc)
	}
}

// The repository stands alone: nothing in it points at a place outside.
func TestStandsAlone(t *testing.T) {
	outside := regexp.MustCompile(`\.\./` + `shared\b|/` + `work/|/` + `tmp/contract`)
	for _, ext := range []string{".go", ".md", ".yaml", ".txt", ".txtar", "/run", "go.mod", ".gitignore"} {
		for _, path := range repoFiles(t, ext) {
			data, err := os.ReadFile(filepath.Join(root, path))
			require.NoError(t, err)
			for i, line := range strings.Split(string(data), "\n") {
				assert.False(t, outside.MatchString(line), "%s:%d: %s", path, i+1, line)
			}
		}
	}
}
