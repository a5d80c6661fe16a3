package plan_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter/density"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// shoal is a drawing whose left half is black.
const shoal = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 5"><rect width="5" height="5"/></svg>`

// folder is what lies beside the plans.
func folder() fs.FS {
	return fstest.MapFS{
		"shoal.svg":      {Data: []byte(shoal)},
		"maps/shoal.svg": {Data: []byte(shoal)},
		"note.txt":       {Data: []byte("not a drawing")},
		"maps/pipe":      {Mode: fs.ModeNamedPipe},
	}
}

// mapped returns the map that the plan gives, with the given keys after its wall.
func mapped(t *testing.T, keys string) density.Map {
	t.Helper()
	text := strings.Replace(sound, "  flow:\n", "  density: {maps: {wall: Long wall, "+keys+"}}\n  flow:\n", 1)
	p, err := plan.ReadBeside("p.yaml", []byte(text), folder())
	require.NoError(t, err)
	return p.Composition.Density.Field.(density.Product)[0].(density.Map)
}

func TestMaps(t *testing.T) {
	long, short := space.Upright(space.Vec{}, 0), space.Upright(space.Vec{X: 4000}, -90)
	m := mapped(t, "file: shoal.svg")
	assert.InDelta(t, 1, m.At(long, plane.Point{X: 1000, Y: 1000}), 1e-9)
	assert.InDelta(t, 0, m.At(long, plane.Point{X: 3000, Y: 1000}), 1e-9)
	assert.Equal(t, 1.0, m.At(short, plane.Point{X: 1000, Y: 1000}))

	m = mapped(t, "file: ./maps/shoal.svg, left: 1 m, bottom: 500, width: 2000, height: 1000, white: 0.5, black: 4, beside: 0.1")
	assert.Equal(t, plane.Rect{Min: plane.Point{X: 1000, Y: 500}, Max: plane.Point{X: 3000, Y: 1500}}, m.Over)
	assert.InDelta(t, 4, m.At(long, plane.Point{X: 1500, Y: 1000}), 1e-9)
	assert.InDelta(t, 0.5, m.At(long, plane.Point{X: 2500, Y: 1000}), 1e-9)
	assert.InDelta(t, 0.1, m.At(long, plane.Point{X: 500, Y: 1000}), 1e-9)
}

func TestFaultsOfMaps(t *testing.T) {
	const within = "; put the file into the folder of the plan, or into one within it, and write it with / between them, like maps/shoal.png"
	const keys = "name a wall and a file, like {wall: Long wall, file: shoal.png}"
	for _, tt := range []struct{ item, want string }{
		{"{wall: Long wall, ▶file: shaol.svg}", `.file: "shaol.svg" is not there` + within},
		{"{wall: Long wall, ▶file: ../p.yaml}", `.file: "../p.yaml" leads out of the folder of the plan` + within},
		{"{wall: Long wall, ▶file: /etc/passwd}", `.file: "/etc/passwd" leads out of the folder of the plan` + within},
		{"{wall: Long wall, ▶file: 'C:\\shoal.png'}", `.file: "C:\shoal.png" leads out of the folder of the plan` + within},
		{"{wall: Long wall, ▶file: maps}", `.file: "maps" is not a file; name a PNG, JPEG or SVG file`},
		{"{wall: Long wall, ▶file: maps/pipe}", `.file: "maps/pipe" is not a file; name a PNG, JPEG or SVG file`},
		{"{wall: Long wall, ▶file: note.txt}", `.file: "note.txt" is neither a PNG nor a JPEG nor an SVG file; save it anew, as a PNG`},
		{"▶{wall: Long wall}", ".file: is missing; " + keys},
		{"▶{file: shoal.svg}", ".wall: is missing; " + keys},
		{"{▶wall: Lnog wall, file: shoal.svg}", `.wall: "Lnog wall" is not the name of a wall; did you mean Long wall?`},
		{"▶{wall: Long wall, file: shoal.svg, white: 2, black: 2}", ": is as dense where it is white as where it is black; give white and black two densities, like 0 and 1"},
		{"{wall: Long wall, file: shoal.svg, ▶black: 101}", ".black: 101 is not a density; give a number from 0 to 100"},
		{"▶{wall: Long wall, file: shoal.svg, left: 0, bottom: 0, width: 5}", ".height: is missing; give left, bottom, width and height, or none of them for the whole wall"},
		{"▶{wall: Long wall, file: shoal.svg, left: 4100, bottom: 0, width: 5, height: 5}", ": lies beside the wall; move it, or correct the wall"},
	} {
		t.Run(tt.item, func(t *testing.T) {
			text, line := change(t, []string{"  flow:\n", "  density:\n    maps:\n      - " + tt.item + "\n  flow:\n"})
			_, err := plan.ReadBeside("p.yaml", []byte(text), folder())
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: composition.density.maps[0]%s", line, tt.want))
		})
	}
}

// A plan that lies in no folder has no drawing beside it, and a link in a folder leads nowhere else.
func TestWhereMapsAreSought(t *testing.T) {
	text, line := change(t, []string{"  flow:\n", "▶  density: {maps: {wall: Long wall, file: shoal.svg}}\n  flow:\n"})
	_, err := plan.Read("p.yaml", []byte(text))
	assert.EqualError(t, err, fmt.Sprintf(`p.yaml:%d: composition.density.maps.file: "shoal.svg" is sought beside the plan, and the plan was not read from a folder; save the plan as a file, and the drawing beside it`, line))

	elsewhere, here := t.TempDir(), t.TempDir()
	outside := filepath.Join(elsewhere, "outside.svg")
	require.NoError(t, os.WriteFile(outside, []byte(shoal), 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(here, "shoal.svg")))
	root, err := os.OpenRoot(here)
	require.NoError(t, err)
	defer root.Close()
	_, err = plan.ReadBeside("p.yaml", []byte(text), root.FS())
	assert.ErrorContains(t, err, `"shoal.svg" cannot be read; name a file that you may read`)
}
