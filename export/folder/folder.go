// Package folder writes finished work to disk all at once or not at all.
//
// A pack is a folder of files with a list of them and their hashes in it. The list is how the
// program knows a folder again as its own: it replaces such a folder as a whole, and refuses to
// touch one in which a person has put or changed something.
package folder

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// A File is one file of a pack. Write is called once, and gives the whole content to its writer.
type File struct {
	Name  string // without folders
	Write func(io.Writer) error
}

// Write puts the files into the folder dir, and returns the first error. Until all of them are
// written, to the disk and not only to its cache, nothing changes at dir; then the new folder
// takes the place of the old one as a whole. Whatever stops it, a cancelled context included, the
// old folder stays as it was.
//
// A folder that is there already is replaced where it is empty or holds nothing but what an
// earlier Write put in it. A file of that folder may also have become one of those that are taken,
// the contents of files that the new ones were made from: what somebody changed in it is then in
// the new folder. The folder above dir has to exist. Links are not followed.
//
// Should the machine stop in the instant between taking the old folder away and putting the new
// one in its place, the old one lies whole in a hidden folder beside dir, and the next Write puts
// it back before it begins. A process that is killed outright earlier than that leaves such a hidden
// folder too, with nothing in it that is needed: ".pack.", say, and a number.
func Write(ctx context.Context, dir string, files []File, taken ...[]byte) error {
	if err := checkNames(files); err != nil {
		return err
	}
	dir, err := resolve(dir)
	if err != nil {
		return err
	}
	if err := putBack(dir, taken); err != nil {
		return err
	}
	if err := replaceable(dir, taken); err != nil {
		return err
	}
	stage, err := newStage(dir)
	if err != nil {
		return err
	}
	defer stage.discard()
	if err := stage.fill(ctx, files); err != nil {
		return err
	}
	if err := replaceable(dir, taken); err != nil {
		return err
	}
	return stage.swap(dir, os.Rename)
}

// resolve returns dir as an absolute path, having made sure that a folder can stand there.
func resolve(dir string) (string, error) {
	if dir == "" {
		return "", errors.New("no folder is named; name the one to write, such as pack")
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", fmt.Errorf("cannot find %q: %w", dir, plain(err))
	}
	if err := needParent(abs); err != nil {
		return "", err
	}
	if holdsWorkingFolder(abs) {
		return "", fmt.Errorf("%q is the folder you are working in, or one above it, and would be replaced as a whole; name a folder inside it, such as pack", dir)
	}
	return abs, nil
}

// needParent makes sure that the folder that is to hold path exists and is one.
func needParent(path string) error {
	parent := filepath.Dir(path)
	switch info, err := os.Stat(parent); {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%q cannot be written: the folder %q does not exist; make it first, or name another", path, parent)
	case err != nil:
		return fmt.Errorf("%q cannot be written: %w", path, plain(err))
	case !info.IsDir():
		return fmt.Errorf("%q cannot be written: %q is a file, not a folder", path, parent)
	}
	return nil
}

// holdsWorkingFolder reports whether dir is the working folder or one above it. A shell that
// stands in a folder which is replaced would see an empty one from then on.
func holdsWorkingFolder(dir string) bool {
	info, err := os.Stat(dir)
	if err != nil {
		return false
	}
	at, err := os.Getwd()
	for err == nil {
		here, statErr := os.Stat(at)
		if statErr == nil && os.SameFile(here, info) {
			return true
		}
		above := filepath.Dir(at)
		if above == at {
			return false
		}
		at = above
	}
	return false
}

// A stage is a hidden folder beside the one to be written. The new folder is made whole in it, and
// the old one is put into it until the new one stands.
type stage struct{ root string }

func (s stage) fresh() string  { return filepath.Join(s.root, "pack") }
func (s stage) before() string { return filepath.Join(s.root, "before") }

func newStage(path string) (stage, error) {
	parent, name := filepath.Split(path)
	root, err := os.MkdirTemp(parent, "."+name+".*")
	if err != nil {
		return stage{}, fmt.Errorf("%q cannot be written: %w", path, plain(err))
	}
	return stage{root}, nil
}

// fill writes the files and the list of them into the stage's new folder.
func (s stage) fill(ctx context.Context, files []File) error {
	if err := os.Mkdir(s.fresh(), 0o777); err != nil {
		return plain(err)
	}
	list := make([]entry, len(files))
	for i, f := range files {
		sum, err := writeOne(ctx, filepath.Join(s.fresh(), f.Name), f.Write)
		if err != nil {
			return fmt.Errorf("writing %s: %w", f.Name, err)
		}
		list[i] = entry{f.Name, sum}
	}
	_, err := writeOne(ctx, filepath.Join(s.fresh(), listName), func(w io.Writer) error {
		return writeList(w, list)
	})
	if err != nil {
		return fmt.Errorf("writing %s: %w", listName, err)
	}
	syncFolder(s.fresh())
	return nil
}

// swap puts the stage's new folder in the place of dir, and takes what was there into the stage.
// Where the second move fails the first is undone.
func (s stage) swap(dir string, rename func(from, to string) error) error {
	old := true
	if err := rename(dir, s.before()); errors.Is(err, fs.ErrNotExist) {
		old = false
	} else if err != nil {
		return fmt.Errorf("%q cannot be replaced: %w", dir, plain(err))
	}
	if err := rename(s.fresh(), dir); err != nil {
		if old {
			if undo := rename(s.before(), dir); undo != nil {
				return fmt.Errorf("%q cannot be replaced: %w; the old one is in %q", dir, plain(err), s.before())
			}
		}
		return fmt.Errorf("%q cannot be written: %w", dir, plain(err))
	}
	syncFolder(filepath.Dir(dir))
	return os.RemoveAll(s.before())
}

// discard takes the stage away with the new folder that did not come to stand. Where an old folder
// could not be put back it stays, and the stage with it.
func (s stage) discard() {
	os.RemoveAll(s.fresh())
	os.Remove(s.root)
}

// putBack looks for an old folder that a stop between the two moves of a swap left beside dir, and
// puts it back into its place where that is free.
func putBack(dir string, taken [][]byte) error {
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	parent, name := filepath.Split(dir)
	siblings, err := os.ReadDir(parent)
	if err != nil {
		return fmt.Errorf("%q cannot be read: %w", parent, plain(err))
	}
	for _, e := range siblings {
		digits, hidden := strings.CutPrefix(e.Name(), "."+name+".")
		if !hidden || digits == "" || strings.Trim(digits, "0123456789") != "" || !e.IsDir() {
			continue
		}
		left := stage{filepath.Join(parent, e.Name())}
		info, err := os.Lstat(left.before())
		if err != nil || !info.IsDir() || replaceable(left.before(), taken) != nil {
			continue
		}
		if err := os.Rename(left.before(), dir); err != nil {
			return fmt.Errorf("%q cannot be put back: %w", dir, plain(err))
		}
		return os.RemoveAll(left.root)
	}
	return nil
}

// writeOne writes one new file, to the disk itself, and returns the hash of what was written.
func writeOne(ctx context.Context, path string, write func(io.Writer) error) (sum string, err error) {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return "", plain(err)
	}
	defer func() {
		if closed := file.Close(); err == nil {
			err = plain(closed)
		}
	}()
	hash := sha256.New()
	out := bufio.NewWriterSize(io.MultiWriter(file, hash), 1<<16)
	if err := write(stoppable{ctx, out}); err != nil {
		return "", plain(err)
	}
	if err := ctx.Err(); err != nil {
		return "", context.Cause(ctx)
	}
	if err := out.Flush(); err != nil {
		return "", plain(err)
	}
	if err := file.Sync(); err != nil {
		return "", plain(err)
	}
	return hex.EncodeToString(hash.Sum(nil)), nil
}

// A stoppable writer fails once its context is done, so that a long file need not be finished.
type stoppable struct {
	ctx context.Context
	out io.Writer
}

func (s stoppable) Write(p []byte) (int, error) {
	if s.ctx.Err() != nil {
		return 0, context.Cause(s.ctx)
	}
	return s.out.Write(p)
}

// syncFolder asks the system to write a folder's own entries to the disk. Some systems have no way
// to do so and report an error; there is nothing more to be done there, so it is passed over.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}

// plain returns what lies at once under an error of a file operation, without the name of a system call
// and of a folder that the reader never sees.
func plain(err error) error {
	switch err := err.(type) {
	case *fs.PathError:
		return err.Err
	case *os.LinkError:
		return err.Err
	}
	return err
}
