package folder

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func text(name, content string) File {
	return File{name, func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}}
}

// tree returns the content of every file below dir by its path, folders with a slash.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		switch {
		case e.IsDir():
			found[filepath.ToSlash(name)+"/"] = ""
		case e.Type()&fs.ModeSymlink != 0:
			found[filepath.ToSlash(name)] = "(link)"
		default:
			content, err := os.ReadFile(path)
			require.NoError(t, err)
			found[filepath.ToSlash(name)] = string(content)
		}
		return nil
	}))
	return found
}

func put(t *testing.T, path, content string) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
}

func TestAPackIsWrittenWhole(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a.csv", "one"), text("b.svg", "two")}))

	got := tree(t, above)
	assert.Equal(t, "one", got["pack/a.csv"])
	assert.Equal(t, "two", got["pack/b.svg"])
	assert.Contains(t, got, "pack/"+listName)
	assert.Len(t, got, 4, "the folder, two files and the list, and nothing beside them")

	info, err := os.Stat(dir)
	require.NoError(t, err)
	assert.NotEqual(t, fs.FileMode(0o700), info.Mode().Perm(), "others can read it as far as the system's mask allows")
}

func TestTheListIsCheckedByAnotherProgram(t *testing.T) {
	if _, err := exec.LookPath("sha256sum"); err != nil && os.Getenv("CI") != "true" {
		t.Skip("sha256sum is not here to check the list")
	}
	dir := filepath.Join(t.TempDir(), "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a.csv", "one"), text("стена b.svg", "two")}))
	check := exec.Command("sha256sum", "--check", "--strict", listName)
	check.Dir = dir
	out, err := check.CombinedOutput()
	require.NoError(t, err, string(out))

	put(t, filepath.Join(dir, "a.csv"), "other")
	check = exec.Command("sha256sum", "--check", "--strict", listName)
	check.Dir = dir
	assert.Error(t, check.Run())
}

func TestAPackOfOursIsReplacedAsAWhole(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "1"), text("gone", "1")}))
	require.NoError(t, os.Remove(filepath.Join(dir, "gone")), "a person may delete what they do not need")
	put(t, filepath.Join(dir, ".DS_Store"), "a desktop was here")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "2"), text("b", "2")}))

	got := tree(t, above)
	delete(got, "pack/"+listName)
	assert.Equal(t, map[string]string{"pack/": "", "pack/a": "2", "pack/b": "2"}, got)
}

func TestAnEmptyFolderIsFilled(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	require.NoError(t, os.Mkdir(dir, 0o777))
	require.NoError(t, Write(t.Context(), dir+string(filepath.Separator), []File{text("a", "1")}))
	assert.Equal(t, "1", tree(t, above)["pack/a"])
}

func TestWhatAPersonMadeIsNeverReplaced(t *testing.T) {
	tests := []struct {
		name string
		make func(t *testing.T, dir string)
		want []string
	}{
		{"a folder of theirs", func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(dir, 0o777))
			put(t, filepath.Join(dir, "letter.txt"), "dear")
		}, []string{"not empty", "name another folder"}},
		{"a file added", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			put(t, filepath.Join(dir, "notes.txt"), "mine")
		}, []string{`because this program did not write "notes.txt"; move`}},
		{"a file changed", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1"), text("b", "1")}))
			put(t, filepath.Join(dir, "b"), "2")
		}, []string{`because "b" was changed since it was written; move`}},
		{"both", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			put(t, filepath.Join(dir, "a"), "2")
			put(t, filepath.Join(dir, "b"), "2")
		}, []string{`did not write "b", and "a" was changed since it was written; move`}},
		{"a folder inside", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			require.NoError(t, os.Mkdir(filepath.Join(dir, "photos"), 0o777))
		}, []string{`"photos"`}},
		{"a link in the place of a file", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			put(t, dir+"-elsewhere", "1")
			require.NoError(t, os.Remove(filepath.Join(dir, "a")))
			require.NoError(t, os.Symlink(dir+"-elsewhere", filepath.Join(dir, "a")))
		}, []string{`"a"`}},
		{"a list that is a link", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			list := filepath.Join(dir, listName)
			require.NoError(t, os.Rename(list, dir+"-list"))
			require.NoError(t, os.Symlink(dir+"-list", list))
		}, []string{"not empty"}},
		{"a list cut short", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
			put(t, filepath.Join(dir, listName), listHead+"\n0123  a\n")
		}, []string{"not empty"}},
		{"a list that names a path", func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(dir, 0o777))
			put(t, filepath.Join(dir, listName), listHead+"\n"+strings.Repeat("0", 64)+"  ../a\n")
		}, []string{"not empty"}},
		{"many files", func(t *testing.T, dir string) {
			require.NoError(t, Write(t.Context(), dir, nil))
			for _, name := range strings.Split("abcdefgh", "") {
				put(t, filepath.Join(dir, name), "")
			}
		}, []string{`"a", "b", "c", "d", "e", and 3 more`}},
		{"a file in the place of the folder", func(t *testing.T, dir string) {
			put(t, dir, "a file")
		}, []string{"is a file, not a folder"}},
		{"a link to a folder", func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(dir+"-elsewhere", 0o777))
			require.NoError(t, os.Symlink(dir+"-elsewhere", dir))
		}, []string{"is a link"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			above := t.TempDir()
			dir := filepath.Join(above, "pack")
			tt.make(t, dir)
			before := tree(t, above)

			err := Write(t.Context(), dir, []File{{"a", func(io.Writer) error {
				t.Error("a pack that cannot be put down need not be made")
				return nil
			}}})
			for _, want := range tt.want {
				assert.ErrorContains(t, err, want)
			}
			assert.ErrorContains(t, err, "pack")
			assert.NotContains(t, err.Error(), "\n", "one clear message")
			assert.Equal(t, before, tree(t, above))
		})
	}
}

func TestWhatAPersonAddsMeanwhileIsKept(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
	err := Write(t.Context(), dir, []File{{"a", func(io.Writer) error {
		put(t, filepath.Join(dir, "notes.txt"), "mine")
		return nil
	}}})
	assert.ErrorContains(t, err, "notes.txt")
	got := tree(t, above)
	assert.Equal(t, "mine", got["pack/notes.txt"])
	assert.Equal(t, "1", got["pack/a"])
	assert.Len(t, got, 4)
}

func TestWhateverStopsItLeavesTheOldPackWhole(t *testing.T) {
	paper := errors.New("out of paper")
	tests := []struct {
		name  string
		files func(cancel func()) []File
		want  error
	}{
		{"a file that fails at once", func(func()) []File {
			return []File{text("a", "2"), {"b", func(io.Writer) error { return paper }}}
		}, paper},
		{"a file that fails half-way", func(func()) []File {
			return []File{{"a", func(w io.Writer) error {
				for range 100 {
					if _, err := io.WriteString(w, strings.Repeat("x", 4096)); err != nil {
						return err
					}
				}
				return paper
			}}}
		}, paper},
		{"cancelled between files", func(cancel func()) []File {
			return []File{{"a", func(io.Writer) error { cancel(); return nil }}, text("b", "2")}
		}, context.Canceled},
		{"cancelled within a file", func(cancel func()) []File {
			return []File{{"a", func(w io.Writer) error {
				cancel()
				_, err := io.WriteString(w, "2")
				return err
			}}}
		}, context.Canceled},
		{"cancelled by a writer that does not listen", func(cancel func()) []File {
			return []File{{"a", func(w io.Writer) error {
				cancel()
				io.WriteString(w, "2")
				return nil
			}}}
		}, context.Canceled},
	}
	for _, old := range []bool{true, false} {
		for _, tt := range tests {
			t.Run(tt.name, func(t *testing.T) {
				above := t.TempDir()
				dir := filepath.Join(above, "pack")
				if old {
					require.NoError(t, Write(t.Context(), dir, []File{text("a", "1"), text("z", "1")}))
				}
				before := tree(t, above)
				ctx, cancel := context.WithCancel(t.Context())
				defer cancel()
				assert.ErrorIs(t, Write(ctx, dir, tt.files(cancel)), tt.want)
				assert.Equal(t, before, tree(t, above))
			})
		}
	}
}

func TestAMoveThatFailsIsUndone(t *testing.T) {
	broken := errors.New("the disk went away")
	for failing := 1; failing <= 2; failing++ {
		above := t.TempDir()
		dir := filepath.Join(above, "pack")
		require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
		before := tree(t, above)

		s, err := newStage(dir)
		require.NoError(t, err)
		require.NoError(t, s.fill(t.Context(), []File{text("a", "2")}))
		moves := 0
		err = s.swap(dir, func(from, to string) error {
			if moves++; moves == failing {
				return broken
			}
			return os.Rename(from, to)
		})
		s.discard()
		assert.ErrorIs(t, err, broken)
		assert.Equal(t, before, tree(t, above), "move %d fails", failing)
	}
}

func TestAnOldPackThatCannotBePutBackIsKeptAndNamed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
	s, err := newStage(dir)
	require.NoError(t, err)
	require.NoError(t, s.fill(t.Context(), []File{text("a", "2")}))
	moves := 0
	err = s.swap(dir, func(from, to string) error {
		if moves++; moves > 1 {
			return errors.New("the disk went away")
		}
		return os.Rename(from, to)
	})
	s.discard()
	assert.ErrorContains(t, err, s.before())
	assert.Equal(t, "1", tree(t, s.before())["a"])
}

// stopBetweenMoves leaves the disk as it is when the machine stops between the two moves.
func stopBetweenMoves(t *testing.T, dir string) {
	t.Helper()
	s, err := newStage(dir)
	require.NoError(t, err)
	require.NoError(t, s.fill(t.Context(), []File{text("a", "2")}))
	require.NoError(t, os.Rename(dir, s.before()))
}

func TestAStopBetweenTheMovesIsMended(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "1")}))
	before := tree(t, above)
	stopBetweenMoves(t, dir)
	require.NoDirExists(t, dir)

	failed := errors.New("no")
	assert.ErrorIs(t, Write(t.Context(), dir, []File{{"a", func(io.Writer) error { return failed }}}), failed)
	assert.Equal(t, before, tree(t, above), "the old pack is back in its place, and nothing beside it")

	stopBetweenMoves(t, dir)
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "3")}))
	got := tree(t, above)
	assert.Equal(t, "3", got["pack/a"])
	assert.Len(t, got, 3)
}

func TestWhereNoFolderCanStand(t *testing.T) {
	above := t.TempDir()
	put(t, filepath.Join(above, "file"), "")
	t.Chdir(above)
	tests := []struct{ name, dir, want string }{
		{"no name", "", "no folder is named"},
		{"nothing above", filepath.Join(above, "no", "pack"), "does not exist; make it first"},
		{"a file above", filepath.Join(above, "file", "pack"), "is a file, not a folder"},
		{"here", ".", "the folder you are working in"},
		{"above here", "..", "the folder you are working in"},
		{"the root", string(filepath.Separator), "the folder you are working in"},
		{"a system folder that takes nothing", "/proc/pack", `"/proc/pack" cannot be written`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if strings.HasPrefix(tt.dir, "/proc") {
				if _, err := os.Stat("/proc/self"); err != nil {
					t.Skip("no /proc here")
				}
			}
			err := Write(t.Context(), tt.dir, []File{text("a", "1")})
			assert.ErrorContains(t, err, tt.want)
			assert.NotContains(t, err.Error(), "\n")
			assert.NotContains(t, err.Error(), "mkdir")
		})
	}
	assert.Len(t, tree(t, above), 1)
}

func TestAFolderThatMayNotBeWrittenIsLeft(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write everywhere")
	}
	above := t.TempDir()
	require.NoError(t, os.Chmod(above, 0o555))
	err := Write(t.Context(), filepath.Join(above, "pack"), []File{text("a", "1")})
	assert.ErrorIs(t, err, fs.ErrPermission)
}

func TestAFullDiskIsSaid(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full here")
	}
	defer full.Close()
	dir := filepath.Join(t.TempDir(), "pack")
	err = Write(t.Context(), dir, []File{{"a.pdf", func(io.Writer) error {
		_, err := full.WriteString("x")
		return err
	}}})
	assert.ErrorContains(t, err, "writing a.pdf: no space left on device")
	assert.NoDirExists(t, dir)
}

func TestNamesAreCheckedBeforeAnything(t *testing.T) {
	above := t.TempDir()
	dir := filepath.Join(above, "pack")
	err := Write(t.Context(), dir, []File{text("../a", ""), text("CON.txt", ""), text("Wall.svg", ""), text("wall.SVG", "")})
	assert.ErrorContains(t, err, `"../a"`)
	assert.ErrorContains(t, err, `"CON.txt"`)
	assert.ErrorContains(t, err, `"Wall.svg" and "wall.SVG"`)
	assert.Empty(t, tree(t, above))
}

func FuzzReadList(f *testing.F) {
	f.Add([]byte(listHead + "\n" + strings.Repeat("0", 64) + "  holes.csv\n"))
	f.Add([]byte(listHead + "\r\n"))
	f.Add([]byte(""))
	f.Add([]byte(listHead + "\n" + strings.Repeat("0", 64) + "  ..\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		sums, ok := readList(content)
		for name, sum := range sums {
			assert.True(t, ok)
			assert.NoError(t, checkName(name))
			assert.Len(t, sum, 64)
		}
	})
}

// What somebody changed in a file of the pack is not lost where the new pack was made from it.
func TestAPackMadeFromAChangedFileIsReplaced(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "pack")
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "old"), text("b", "old")}))
	put(t, filepath.Join(dir, "a"), "moved")
	require.Error(t, Write(t.Context(), dir, []File{text("a", "new")}))
	require.Error(t, Write(t.Context(), dir, []File{text("a", "new")}, []byte("mover")))
	require.NoError(t, Write(t.Context(), dir, []File{text("a", "new"), text("b", "new")}, []byte("moved")))
	assert.Equal(t, "new", tree(t, dir)["a"])

	put(t, filepath.Join(dir, "a"), "moved")
	put(t, filepath.Join(dir, "b"), "written into")
	err := Write(t.Context(), dir, []File{text("a", "newer")}, []byte("moved"))
	assert.ErrorContains(t, err, `because "b" was changed since it was written`)

	require.NoError(t, os.Remove(filepath.Join(dir, "b")))
	put(t, filepath.Join(dir, "notes"), "moved")
	err = Write(t.Context(), dir, []File{text("a", "newer")}, []byte("moved"))
	assert.ErrorContains(t, err, `did not write "notes"`, "a file that the program never wrote stays")
	assert.Equal(t, "moved", tree(t, dir)["a"])
}
