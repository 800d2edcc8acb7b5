package record

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"github.com/natefinch/atomic"
)

// limit bounds what is read and written: a long check takes a tenth of a megabyte.
const limit = 4 << 20

// A File is a record, or a vehicle file, on disk while a talk goes on.
//
// It is replaced whole at every Save, so a program that is killed leaves the
// file of the answer before. What another program put there is never
// overwritten.
type File struct {
	Path string // changes when Save goes on elsewhere

	base string // Path at first
	n    int    // how often it went on elsewhere, plus 1
	last []byte // what this program last wrote or read there; nil: nothing yet
}

// Create begins a new record at path, which must not exist. Nothing is written
// before the first Save, but a folder that cannot be written is noticed here.
func Create(path string) (*File, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("record %s: %w", path, err)
	}
	if _, err := os.Lstat(path); err == nil {
		return nil, fmt.Errorf("%s exists: chock never overwrites a record; give another name, or go on with it by --resume", path)
	}
	f := &File{Path: path, base: path, n: 1}
	tmp, err := f.temp(nil)
	if err != nil {
		return nil, err
	}
	return f, os.Remove(tmp)
}

// Open loads the record at path to go on with it.
func Open(path string) (*File, *Record, error) {
	// A rename would put a file in the place of a symbolic link.
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, nil, fmt.Errorf("record %s: %w", path, err)
	}
	data, err := read(path, limit)
	if err != nil {
		return nil, nil, err
	}
	r, err := parse(path, data)
	if err != nil {
		return nil, nil, err
	}
	return &File{Path: path, base: path, n: 1, last: data}, r, nil
}

// Load reads the record at path.
func Load(path string) (*Record, error) {
	data, err := read(path, limit)
	if err != nil {
		return nil, err
	}
	return parse(path, data)
}

// Save replaces the file by r. When another program has changed or removed the
// file since this one last wrote it, what stands there is left alone, and r
// goes to NAME-2.yaml, or the next free number. moved is that path, else "".
func (f *File) Save(r *Record) (moved string, err error) {
	data, err := encode(r)
	if err != nil {
		return "", fmt.Errorf("%s: %w", f.Path, err)
	}
	return f.put(data)
}

// put replaces the file by data.
func (f *File) put(data []byte) (moved string, err error) {
	theirs, err := f.changed()
	if err != nil {
		return "", err
	}
	tmp, err := f.temp(data)
	if err != nil {
		return "", err
	}
	defer os.Remove(tmp) // gone already when all went well
	if !theirs && f.last != nil {
		if err := atomic.ReplaceFile(tmp, f.Path); err != nil {
			return "", fmt.Errorf("%s is as it was before the last answer: %w", f.Path, err)
		}
		f.last = data
		return "", nil
	}
	path, n := f.Path, f.n
	if theirs {
		n++
		path = numbered(f.base, n)
	}
	// A name that anybody has taken, also since we looked, is passed over.
	for err = claim(tmp, path); errors.Is(err, fs.ErrExist); err = claim(tmp, path) {
		theirs = true
		n++
		path = numbered(f.base, n)
	}
	if err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	if theirs {
		moved = path
	}
	f.Path, f.n, f.last = path, n, data
	return moved, nil
}

// changed tells whether another program was at the file.
func (f *File) changed() (bool, error) {
	if f.last == nil {
		return false, nil // claim will see
	}
	info, err := os.Lstat(f.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return true, nil
	case err != nil:
		return false, fmt.Errorf("record: %w", err)
	case !info.Mode().IsRegular() || info.Size() != int64(len(f.last)):
		return true, nil
	}
	now, err := os.ReadFile(f.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission):
		return true, nil
	case err != nil:
		return false, fmt.Errorf("record: %w", err)
	}
	return !bytes.Equal(now, f.last), nil
}

// temp writes data to a new file beside f, for its owner alone.
func (f *File) temp(data []byte) (name string, err error) {
	dir := filepath.Dir(f.Path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", unwritable(dir, err)
	}
	t, err := os.CreateTemp(dir, ".chock-*.tmp") // 0600
	if err != nil {
		return "", unwritable(dir, err)
	}
	_, err = t.Write(data)
	if err == nil && data != nil { // an empty try need not reach the disk, and the person waits for it
		err = t.Sync()
	}
	if e := t.Close(); err == nil {
		err = e
	}
	if err != nil {
		os.Remove(t.Name())
		return "", unwritable(dir, err)
	}
	return t.Name(), nil
}

func unwritable(dir string, err error) error {
	return fmt.Errorf("nothing can be written in %s: %w; free some room there, or name a file in another place", dir, err)
}

// WriteNew writes a file that must not exist yet, whole or not at all. Where
// it exists the error is fs.ErrExist, and what stands there is left alone.
func WriteNew(path string, data []byte, perm fs.FileMode) error {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrExist}
	}
	t, err := os.CreateTemp(filepath.Dir(path), ".chock-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(t.Name()) // gone already when all went well
	_, err = t.Write(data)
	if err == nil {
		err = t.Chmod(perm)
	}
	if err == nil {
		err = t.Sync()
	}
	if e := t.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	return claim(t.Name(), path)
}

// claim moves tmp to path, which must not exist.
func claim(tmp, path string) error {
	err := os.Link(tmp, path)
	if err == nil {
		return os.Remove(tmp)
	}
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	// Some file systems have no links: take the name, then replace it.
	name, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	if err := name.Close(); err != nil {
		return err
	}
	return atomic.ReplaceFile(tmp, path)
}

// numbered gives NAME-2.yaml for NAME.yaml and 2.
func numbered(path string, n int) string {
	ext := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ext), n, ext)
}

// DefaultPath names a new record of now in the person's data folder. It is
// never the name of a file that exists.
func DefaultPath(now time.Time) (string, error) {
	path := filepath.Join(Dir(), now.Format("check-2006-01-02-1504")+".yaml")
	free := path
	for n := 2; ; n++ {
		_, err := os.Lstat(free)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return free, nil
		case err != nil:
			return "", fmt.Errorf("record: %w; choose another place with --record FILE", err)
		}
		free = numbered(path, n)
	}
}

// Dir is where records are kept unless --record says otherwise.
func Dir() string {
	xdg.Reload() // the environment of now, not that of the start
	return filepath.Join(xdg.DataHome, "chock")
}

// read reads a file of no more than size bytes.
func read(path string, size int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err // names the file and says what was wrong
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder; name the file in it", path)
	case info.Size() > size:
		return nil, tooBig(path, size)
	}
	var b bytes.Buffer
	b.Grow(int(info.Size()) + bytes.MinRead)
	_, err = b.ReadFrom(io.LimitReader(f, size+1)) // it may be a pipe, which has no size
	data := b.Bytes()
	switch {
	case err != nil:
		return nil, err
	case int64(len(data)) > size:
		return nil, tooBig(path, size)
	}
	return data, nil
}

func tooBig(path string, size int64) error {
	return fmt.Errorf("%s is over %d MB, and a file of chock is far smaller; is it the right one?", path, size>>20)
}
