//go:build linux

package record

import (
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A disk that fills up in the middle of a write leaves the record of before,
// and no rest of the new one.
func TestDiskFull(t *testing.T) {
	dir := t.TempDir()
	f, err := Create(filepath.Join(dir, "r.yaml"))
	require.NoError(t, err)
	_, err = f.Save(&Record{Vehicle: "one"})
	require.NoError(t, err)

	// A limit on the size of files fails a write half-way, as a full disk does.
	signal.Ignore(syscall.SIGXFSZ)
	t.Cleanup(func() { signal.Reset(syscall.SIGXFSZ) })
	var was syscall.Rlimit
	require.NoError(t, syscall.Getrlimit(syscall.RLIMIT_FSIZE, &was))
	require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 1000, Max: was.Max}))
	_, err = f.Save(&Record{Vehicle: strings.Repeat("two ", 1000)})
	require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &was))
	assert.ErrorContains(t, err, "nothing can be written in "+dir)
	assert.ErrorIs(t, err, syscall.EFBIG)

	names, err := filepath.Glob(filepath.Join(dir, ".*"))
	require.NoError(t, err)
	assert.Empty(t, names)
	r, err := Load(f.Path)
	require.NoError(t, err)
	assert.Equal(t, "one", r.Vehicle)

	moved, err := f.Save(&Record{Vehicle: "two"})
	require.NoError(t, err)
	assert.Empty(t, moved)
}
