package progress

import (
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// summed returns a line with its checksum, whatever it says.
func summed(text string) []byte {
	return fmt.Appendf([]byte(text), sumForm+"\n", crc32.ChecksumIEEE([]byte(text)))
}

// written returns a file with n lines, and what its first lines come to, by how many they are.
func written(t *testing.T, n int) (data []byte, ends []int, records []Record) {
	s := newState()
	data = []byte(header)
	ends, records = []int{len(data)}, []Record{s.record()}
	for _, l := range some(n) {
		if s.take(l) != "" {
			continue
		}
		text, err := l.text()
		require.NoError(t, err)
		data = append(data, text...)
		ends, records = append(ends, len(data)), append(records, s.record())
	}
	return data, ends, records
}

// Wherever the file ends, all lines before that are read, and nothing else.
func TestTornAtEveryByte(t *testing.T) {
	data, ends, records := written(t, 30)
	lines := 0
	for cut := len(header); cut <= len(data); cut++ {
		for lines+1 < len(ends) && ends[lines+1] <= cut+1 { // only the line end may be missing
			lines++
		}
		want := records[lines]
		if ends[lines] <= cut {
			want.Torn = cut - ends[lines]
		}
		got, err := Read("p", data[:cut])
		require.NoError(t, err)
		require.Equal(t, want, got, "cut at %d", cut)
		zeros, err := Read("p", append(data[:cut:cut], make([]byte, 4096)...))
		require.NoError(t, err)
		want.Torn += 4096
		require.Equal(t, want, zeros)
	}
	for cut := range header {
		_, err := Read("p", data[:cut])
		require.Error(t, err)
	}
}

// A torn file is mended when it is opened, and what is added then is read with what stood there.
func TestATornFileGoesOn(t *testing.T) {
	data, ends, records := written(t, 4)
	for _, tail := range []string{"", string(make([]byte, 700))} {
		for cut := ends[len(ends)-2]; cut <= len(data); cut++ {
			path := filepath.Join(t.TempDir(), "p")
			require.NoError(t, os.WriteFile(path, append(data[:cut:cut], tail...), 0o666))
			l := opened(t, path)
			require.NoError(t, l.Up(after(500), "Y", piece(77)))
			require.NoError(t, l.Close())
			now, err := os.ReadFile(path)
			require.NoError(t, err)
			got, err := Read(path, now)
			require.NoError(t, err)
			require.Zero(t, got.Lost+got.Torn)
			want := records[len(records)-2]
			if cut >= len(data)-1 {
				want = records[len(records)-1]
			}
			want.Up = append(want.Up[:len(want.Up):len(want.Up)], Tick{piece(77), "Y", after(500)})
			require.Equal(t, want, got, "cut at %d", cut)
		}
	}
}

// A file whose end is of somebody else is not cut off.
func TestALongForeignEndStays(t *testing.T) {
	data, _, _ := written(t, 4)
	data = append(data, make([]byte, 100)...)
	for range MaxLine {
		data = append(data, 'x')
	}
	path := filepath.Join(t.TempDir(), "p")
	require.NoError(t, os.WriteFile(path, data, 0o666))
	_, err := Open(t.Context(), path)
	assert.ErrorContains(t, err, "not of this program")
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, data, now)
}

// A byte that went bad anywhere costs its line, and is told of; it never makes a tick that nobody made.
func TestABadByteAnywhere(t *testing.T) {
	data, _, _ := written(t, 30)
	ever := map[string]bool{}
	for _, l := range some(30) {
		ever[l.Holes] = l.Do == up || ever[l.Holes]
	}
	for i := len(header); i < len(data)-1; i++ {
		for _, flip := range []byte{1, 0x20, 0x80} {
			bad := append([]byte(nil), data...)
			bad[i] ^= flip
			got, err := Read("p", bad)
			require.NoError(t, err)
			require.GreaterOrEqual(t, got.Lost, 1)
			require.Equal(t, got.Lost, len(got.Damaged))
			for _, tick := range got.Up {
				require.True(t, ever[tick.Holes])
			}
		}
	}
}

// A failing disk writes a part of what it is given, or says that nothing was brought to it.
type failing struct {
	disk
	room      int // bytes that it still takes
	noSync    bool
	noTurning bool
}

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.room {
		n, _ := f.disk.Write(p[:f.room])
		f.room = 0
		return n, errors.New("no space left")
	}
	f.room -= len(p)
	return f.disk.Write(p)
}

func (f *failing) Sync() error {
	if f.noSync {
		return errors.New("input/output error")
	}
	return f.disk.Sync()
}

func (f *failing) Truncate(size int64) error {
	if f.noTurning {
		return errors.New("input/output error")
	}
	return f.disk.Truncate(size)
}

// A full disk leaves the file as it was, and ticks go on once there is room.
func TestAFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p")
	l := opened(t, path)
	require.NoError(t, l.Up(after(0), "X", piece(1)))
	whole := l.disk
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, room := range []int{0, 1, 50, 200} {
		l.disk = &failing{disk: whole, room: room}
		assert.ErrorContains(t, l.Up(after(1), "X", piece(2), piece(3)), "no space left")
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, string(before), string(now))
		require.Equal(t, []int{1}, numbers(l.Record().Up))
	}
	l.disk = whole
	require.NoError(t, l.Up(after(2), "X", piece(4)))
	assert.Equal(t, []int{1, 4}, numbers(l.Record().Up))
}

// Once nobody can tell what is on the disk, nothing is added until the file is read again.
func TestADiskThatCannotBeTrusted(t *testing.T) {
	for name, disk := range map[string]*failing{"sync": {room: 1000, noSync: true}, "truncate": {room: 10, noTurning: true}} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "p")
			l := opened(t, path)
			disk.disk = l.disk
			l.disk = disk
			assert.ErrorContains(t, l.Up(after(1), "X", piece(2)), "opened again")
			disk.noSync, disk.noTurning, disk.room = false, false, 1000
			assert.ErrorContains(t, l.Up(after(1), "X", piece(3)), "opened again")
			require.NoError(t, l.Close())
			again := opened(t, path)
			require.NoError(t, again.Up(after(2), "X", piece(4)))
			assert.NotContains(t, numbers(again.Record().Up), 3)
			assert.Contains(t, numbers(again.Record().Up), 4)
		})
	}
}
