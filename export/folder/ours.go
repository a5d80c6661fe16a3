package folder

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// listName is the file in which a pack lists its other files. Its lines are those that sha256sum
// reads, so that anybody can check a pack with "sha256sum -c .wallshoal-pack".
const listName = ".wallshoal-pack"

const listHead = "# What wallshoal wrote into this folder. A pack with this list is replaced as a whole."

// listLimit is the most that is read of a list, in bytes.
const listLimit = 1 << 20

// An entry is one line of the list.
type entry struct{ name, sum string }

func writeList(w io.Writer, list []entry) error {
	if _, err := fmt.Fprintln(w, listHead); err != nil {
		return err
	}
	for _, e := range list {
		if _, err := fmt.Fprintf(w, "%s  %s\n", e.sum, e.name); err != nil {
			return err
		}
	}
	return nil
}

// readList returns the hashes of a list by file name, and whether it is a list at all.
func readList(content []byte) (sums map[string]string, ok bool) {
	lines := bufio.NewScanner(bytes.NewReader(content))
	lines.Buffer(nil, listLimit)
	if !lines.Scan() || lines.Text() != listHead {
		return nil, false
	}
	sums = map[string]string{}
	for lines.Scan() {
		sum, name, found := strings.Cut(lines.Text(), "  ")
		if !found || len(sum) != 2*sha256.Size || checkName(name) != nil {
			return nil, false
		}
		sums[name] = sum
	}
	return sums, lines.Err() == nil
}

// replaceable returns nil where dir may be replaced: there is nothing, an empty folder, or one
// that holds only what an earlier Write put in it, or what was taken from it since.
func replaceable(dir string, taken [][]byte) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("%q cannot be read: %w", dir, plain(err))
	case info.Mode()&fs.ModeSymlink != 0:
		return fmt.Errorf("%q is a link; name the folder itself", dir)
	case !info.IsDir():
		return fmt.Errorf("%q is a file, not a folder; name another", dir)
	}
	return onlyOurs(dir, sumsOf(taken))
}

func onlyOurs(dir string, taken []string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("%q cannot be read: %w", dir, plain(err))
	}
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return leftBySystem(e) })
	if len(entries) == 0 {
		return nil
	}
	sums, listed := listOf(dir)
	if !listed {
		return fmt.Errorf("%q is not empty, and this program did not write it; name another folder", dir)
	}
	var foreign, changed []string
	for _, e := range entries {
		sum, known := sums[e.Name()]
		switch {
		case e.Name() == listName:
		case !known || !e.Type().IsRegular():
			foreign = append(foreign, e.Name())
		default:
			if now := hashOf(filepath.Join(dir, e.Name())); now != sum && !slices.Contains(taken, now) {
				changed = append(changed, e.Name())
			}
		}
	}
	if len(foreign) == 0 && len(changed) == 0 {
		return nil
	}
	return fmt.Errorf("%q is left as it is, because %s; move that elsewhere, or name another folder", dir, why(foreign, changed))
}

func sumsOf(contents [][]byte) []string {
	var sums []string
	for _, c := range contents {
		sum := sha256.Sum256(c)
		sums = append(sums, hex.EncodeToString(sum[:]))
	}
	return sums
}

// leftBySystem reports whether e is one of the files that a desktop leaves in every folder it
// shows.
func leftBySystem(e fs.DirEntry) bool {
	switch e.Name() {
	case ".DS_Store", "Thumbs.db", "desktop.ini":
		return e.Type().IsRegular()
	}
	return false
}

func listOf(dir string) (sums map[string]string, ok bool) {
	path := filepath.Join(dir, listName)
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() > listLimit {
		return nil, false
	}
	content, err := os.ReadFile(path)
	if err != nil {
		return nil, false
	}
	return readList(content)
}

// hashOf returns the hash of a file's content, or nothing where it cannot be read: such a file is
// taken as changed.
func hashOf(path string) string {
	file, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer file.Close()
	hash := sha256.New()
	if _, err := io.Copy(hash, file); err != nil {
		return ""
	}
	return hex.EncodeToString(hash.Sum(nil))
}

func why(foreign, changed []string) string {
	var parts []string
	if len(foreign) > 0 {
		parts = append(parts, "this program did not write "+some(foreign))
	}
	switch len(changed) {
	case 0:
	case 1:
		parts = append(parts, some(changed)+" was changed since it was written")
	default:
		parts = append(parts, some(changed)+" were changed since they were written")
	}
	return strings.Join(parts, ", and ")
}

// mostNamed is how many files a message names before it counts the rest.
const mostNamed = 5

func some(names []string) string {
	quoted := make([]string, 0, mostNamed+1)
	for _, name := range names[:min(len(names), mostNamed)] {
		quoted = append(quoted, fmt.Sprintf("%q", name))
	}
	if more := len(names) - mostNamed; more > 0 {
		quoted = append(quoted, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(quoted, ", ")
}
