package roomview

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A room is seen from one place, framed alike, in one light and with the same figure, whatever hangs within its
// faces: many pieces or none, on every face or on one, where a plan uses all faces or some.
func TestTheRoomStandsStillWhileTheWorkChanges(t *testing.T) {
	for name, room := range shapes() {
		for _, uses := range []string{"all faces", "one face"} {
			site, err := wall.Survey(room)
			require.NoError(t, err)
			for i := range site.Faces {
				site.Faces[i].Used = uses == "all faces" || i == len(site.Faces)/2
			}
			var first [2]Picture
			for seed := range 6 {
				work := strewn(site, rand.New(rand.NewPCG(uint64(seed), 1)), 40*seed)
				work.Layout.Pieces = slices.DeleteFunc(work.Layout.Pieces, func(p scatter.Piece) bool {
					return !within(work, p) || seed == 5 && p.Face != 0
				})
				s, err := New(work)
				require.NoError(t, err)
				for i, p := range []Picture{s.Perspective(), s.Isometric()} {
					if seed == 0 {
						first[i] = p
					}
					of := first[i]
					assert.True(t, of.camera == p.camera, "%s, %s, %d pieces: the camera", name, uses, len(work.Layout.Pieces))
					assert.True(t, of.box == p.box, "%s, %s, %d pieces: the frame, %v and %v", name, uses, len(work.Layout.Pieces), of.box, p.box)
					assert.True(t, of.light == p.light, "%s, %s, %d pieces: the light", name, uses, len(work.Layout.Pieces))
					assert.Equal(t, feetOf(of), feetOf(p), "%s, %s, %d pieces: the figure", name, uses, len(work.Layout.Pieces))
				}
			}
		}
	}
}

// within reports whether a piece hangs wholly on a face that the plan uses.
func within(w holemap.Work, p scatter.Piece) bool {
	f := w.Site.Faces[p.Face]
	return f.Used && f.Outline.Holds(p.Outline(w.Kinds))
}

// feetOf returns where the figure stands in a picture.
func feetOf(p Picture) any {
	for _, f := range p.scene.person(p.camera) {
		return f.centre
	}
	return nil
}
