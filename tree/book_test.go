package tree_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"chock/tree"
	"chock/tree/book"
)

func TestEmbeddedBook(t *testing.T) {
	_, err := tree.Load(book.FS, calcs)
	require.NoError(t, err)
}
