package clientpage_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/photo"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// seen returns a photo of a wall, taken square on, 400 pixels wide and of one grey.
func seen(t *testing.T, index int, level uint8) photo.View {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = level
	}
	img.Set(0, 0, color.White)
	var data bytes.Buffer
	require.NoError(t, jpeg.Encode(&data, img, nil))
	picture, err := photo.Decode(data.Bytes())
	require.NoError(t, err)
	v, faults := photo.New(index, fmt.Sprintf("wall-%d.jpg", index), picture, []photo.Point{
		{Pixel: plane.Point{X: 50, Y: 250}}, {Pixel: plane.Point{X: 350, Y: 250}, At: plane.Point{X: 3000}},
		{Pixel: plane.Point{X: 350, Y: 50}, At: plane.Point{X: 3000, Y: 2000}}, {Pixel: plane.Point{X: 50, Y: 50}, At: plane.Point{Y: 2000}},
	})
	require.Empty(t, faults)
	return v
}

// Each photo follows its wall, however many there are and however alike; pages are counted through, and one
// with the dates stands before what the site provides.
func TestPhotosAndDatesForTheClient(t *testing.T) {
	w := worktest.Ferry(t)
	m, err := making.Of(making.Asked{
		Counts: making.Count(w, 4), Kinds: w.Kinds,
		Hours: &making.Hours{Likelihood: 0.8, Operations: []making.Operation{
			{Operation: hours.Operation{Name: "fold", Per: hours.Piece, Judged: &hours.Judged{Least: 5, Likely: 6, Most: 7}}},
			{Operation: hours.Operation{Name: "drill", Per: hours.Hole, Judged: &hours.Judged{Least: 1, Likely: 2, Most: 3}}},
		}},
		Calendar: &making.Calendar{
			Calendar: calendar.Calendar{Opens: 540, Hours: [7]int{0, 300, 300, 300, 300, 300, 0}, Crew: 1},
			From:     calendar.On(2026, time.November, 30), Install: new(calendar.On(2027, time.February, 26)),
		},
	})
	require.NoError(t, err)
	more := clientpage.More{Made: m, Photos: []photo.View{seen(t, 0, 200), seen(t, 0, 180), seen(t, 1, 160)}}
	for _, paper := range []string{"A4", "Letter"} {
		r := worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, more, worktest.Print(paper)) })
		shown := 0
		order := map[string]int{}
		for n := range r.Pages {
			says := r.Texts(n + 1)
			all := strings.Join(says, "\n")
			assert.Contains(t, all, fmt.Sprintf("page %d of %d", n+1, len(r.Pages)))
			if strings.Contains(all, "over a photo of it") {
				shown++
				assert.Greater(t, n, 1, "after the room and a wall")
			}
			for _, s := range says {
				order[s] = n + 1
			}
		}
		assert.Equal(t, 3, shown)
		assert.NotZero(t, order["What happens when"])
		assert.Less(t, order["What happens when"], order["What the site provides and confirms"])
		assert.NotZero(t, order["On your walls"])
	}
	plain, _ := client(t, w, worktest.Print("A4"))
	full := worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, more, worktest.Print("A4")) })
	assert.Len(t, full.Pages, len(plain.Pages)+4)

	doc := func() []byte {
		c := draw.NewPDF(draw.About{Title: "Work"}, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		require.NoError(t, clientpage.DrawWith(c, w, more, worktest.Print("A4")))
		var out bytes.Buffer
		_, err := c.WriteTo(&out)
		require.NoError(t, err)
		return out.Bytes()
	}
	assert.Equal(t, doc(), doc(), "the same bytes every time")
}
