package tree_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"chock/tree"
)

// The example in docs/tree-language.md is a book, and every key that the
// loader reads is described there.
func TestLanguageReference(t *testing.T) {
	page, err := os.ReadFile("../docs/tree-language.md")
	require.NoError(t, err)
	book := map[string]string{}
	for _, block := range regexp.MustCompile("(?s)```yaml\n# (\\S+\\.yaml)\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
		book[block[1]] = block[2]
	}
	require.Len(t, book, 5)
	b, err := tree.Load(files(book), calcs)
	require.NoError(t, err)
	require.Equal(t, "hold", next(b.Walk([]string{"pulse"}, nil)))

	source, err := os.ReadFile("parse.go")
	require.NoError(t, err)
	keys := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?:f\.fields\(\S+, |checkKeys = |checkKeys\+|known, required := )"([a-z -]+)"`).FindAllStringSubmatch(string(source), -1) {
		for _, key := range strings.Fields(m[1]) {
			keys[key] = true
		}
	}
	require.Greater(t, len(keys), 50)
	spans := strings.Join(regexp.MustCompile("`[^`\n]+`").FindAllString(string(page), -1), " ")
	for key := range keys {
		assert.Regexp(t, `[^a-z-]`+key+`[^a-z-]`, spans, "a key without a word about it")
	}
}
