package plan_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/wall/plane"
)

// photos is what lies beside a plan with photos: one of 400 x 300 pixels.
func photos(t testing.TB) fstest.MapFS {
	t.Helper()
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, image.NewGray(image.Rect(0, 0, 400, 300))))
	return fstest.MapFS{
		"hall.png": {Data: data.Bytes()},
		"cut.png":  {Data: data.Bytes()[:60]},
		"note.txt": {Data: []byte("not a photo")},
	}
}

// four are points of a photo taken square on, a pixel to 10 mm of the wall.
const four = "points: [{pixel: [0, 300], at: [0, 0]}, {pixel: [400, 300], at: [4 m, 0]}, {pixel: [400, 50], at: [4000, 2500]}, {pixel: [0, 50], at: [0, 2500]}]"

// pictured returns the sound plan with a photo on its first wall, and the line of the photo.
func pictured(t testing.TB, keys string) (string, int) {
	t.Helper()
	const after = "      surface: brick\n"
	require.Contains(t, sound, after)
	text := strings.Replace(sound, after, after+"      photo: {"+keys+"}\n", 1)
	return text, 1 + strings.Count(text[:strings.Index(text, "photo:")], "\n")
}

func TestPhoto(t *testing.T) {
	text, _ := pictured(t, "file: hall.png, "+four)
	p, err := plan.ReadBeside("p.yaml", []byte(text), photos(t))
	require.NoError(t, err)
	require.Len(t, p.Photos, 1)
	v := p.Photos[0]
	assert.Equal(t, 0, v.Wall)
	assert.Equal(t, "hall.png", v.Name)
	assert.False(t, v.Known, "taken square on")
	assert.InDelta(t, 0, v.H.At(plane.Point{X: 1000, Y: 900}).Distance(plane.Point{X: 100, Y: 210}), 1e-6)
}

func TestFaultsOfPhotos(t *testing.T) {
	const far = "; count the pixels from its top-left corner, x to the right and y down"
	for _, tt := range []struct{ keys, want string }{
		{"file: hlal.png, " + four, `.file: "hlal.png" is not there; put the file into the folder of the plan, or into one within it, and write it with / between them, like maps/shoal.png`},
		{"file: note.txt, " + four, `.file: "note.txt" is neither a JPEG nor a PNG file; save the photo as a JPEG`},
		{"file: cut.png, " + four, `.file: "cut.png" is a broken PNG file, or ends too soon; copy it from the camera again, or save it anew as a JPEG`},
		{"file: hall.png", ".points: is missing; name a file and points, like {file: hall.jpg, points: [{pixel: [412, 1033], at: [0, 0]}, …]}"},
		{"file: hall.png, points: [{pixel: [1, 2], at: [0, 0]}]", ".points: there are 1 points; give 4 to 20 points whose places on the wall you measured"},
		{"file: hall.png, " + strings.Replace(four, "[400, 50]", "[401, 50]", 1), ".points[2].pixel: [401, 50] is outside the photo, which has 400 x 300 pixels as a viewer shows it" + far},
		{"file: hall.png, " + strings.Replace(four, "[400, 50]", "[400]", 1), ".points[2].pixel: has 1 numbers; write two numbers of pixels, like [412, 1033]"},
		{"file: hall.png, " + strings.Replace(four, "[0, 2500]", "[0, 2600]", 1), ".points[3].at: the point lies off the wall; measure it from the wall's left end and from the floor, on the wall's own plane"},
		{"file: hall.png, " + strings.NewReplacer("[0, 300]", "[400, 300]", "[400, 300]", "[0, 300]").Replace(four), ".points: the points are in another order in the photo than on the wall; see that every pixel stands beside its own place"},
		{"file: hall.png, " + strings.Replace(four, "pixel: [0, 50], at: [0, 2500]", "pixel: [200, 300], at: [2000, 0]", 1), ".points: three of the points lie on a line, or nearly so; give the corners of something large, like the wall or a window"},
		{"file: hall.png, " + strings.Replace(four, "pixel: [0, 50], at: [0, 2500]", "pixel: [0, 300], at: [0, 0]", 1), ".points[3]: is the same as point 1; give each point once, far from the others"},
	} {
		text, line := pictured(t, tt.keys)
		_, err := plan.ReadBeside("p.yaml", []byte(text), photos(t))
		assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: room.walls[0].photo%s", line, tt.want))
	}
}
