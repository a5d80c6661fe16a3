package plan_test

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// Whatever is in the file, it is read or complained of, and what is read can be surveyed.
func FuzzRead(f *testing.F) {
	f.Add([]byte(sound))
	f.Add([]byte(hall))
	f.Add([]byte(framed))
	f.Add([]byte(strings.Replace(sound, "surface: brick", backed, 1)))
	f.Add([]byte(sound + "\ninstall: {reach: {width: 900, height: 1.9 m, ladder: 9'}}\n"))
	f.Add([]byte(strings.Replace(sound, soundFlow, everyCurrent, 1)))
	f.Add([]byte(strings.Replace(sound, "  flow:\n", everyDensity+"  flow:\n", 1)))
	f.Add([]byte(strings.Replace(sound, "  count: 100\n", "  density: {base: 42 per m2}\n", 1)))
	f.Add([]byte(strings.Replace(sound, "  flow:\n", "  density: {maps: {wall: Long wall, file: maps/shoal.svg, left: 0, bottom: 0, width: 900, height: 9, white: 2, beside: 0}}\n  flow:\n", 1)))
	f.Add([]byte(strings.Replace(sound, "spacing: 95", arranged, 1)))
	f.Add([]byte(strings.Replace(sound, "spacing: 95", "spacing: 95\n  mix: drifting", 1)))
	f.Add([]byte(strings.Replace(sound, "stand-off: 12", formed, 1)))
	f.Add([]byte(strings.Replace(sound, "stand-off: 12", "stand-off: 12\n    count: 9\n    sizes: [100 %, 0.8]", 1)))
	files, _ := filepath.Glob("../../../examples/*.yaml")
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	beside := folder().(fstest.MapFS)
	for name, file := range photos(f) {
		beside[name] = file
	}
	for _, points := range []string{four, "points: [{pixel: [1, 2], at: [0, 0]}]"} {
		text, _ := pictured(f, "file: hall.png, "+points)
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<14 {
			t.Skip("long")
		}
		p, err := plan.ReadBeside("p.yaml", data, beside)
		var faults yamlfile.Faults
		if err != nil {
			require.True(t, errors.As(err, &faults))
			return
		}
		require.Empty(t, p.Room.Check(p.Units))
		require.Empty(t, scatter.CheckKinds(p.Kinds, p.Units))
		require.Empty(t, p.Composition.Check(p.Kinds, p.Units))
		site, err := wall.Survey(p.Room)
		require.NoError(t, err)
		for _, face := range site.Faces[:min(3, len(site.Faces))] {
			dense := p.Composition.Density.At(face.Frame, face.Outline.Bounds().Centre())
			require.True(t, dense >= 0 && !math.IsInf(dense, 0), dense)
		}
	})
}
