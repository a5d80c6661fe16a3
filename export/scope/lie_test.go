package scope

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/scatter/quality"
	"wallshoal/wall/measure"
)

// appraised returns what a composition asks for and a layout that came of it.
func appraised() (scatter.Composition, scatter.Appraisal) {
	return scatter.Composition{
			Spacing:  96,
			Headings: heading.Scheme{Spread: 14, Strays: 0.05, Second: heading.Second{Turn: -40, Share: 0.2}, Apart: 12},
		}, scatter.Appraisal{
			Pieces: 3, Asked: 4,
			Evenness: scatter.Evenness{Closest: 250, MeanNearest: 812.345},
			Headings: quality.Headings{Deviation: 11.234, Along: 13.2, Strays: 0.041, Second: 0.185, Apart: 0.955, Alike: 0.913, Chance: -0.204},
			Mixture:  scatter.Mixture{Kinds: 2, Pairs: 20, Equal: quality.Join{Pairs: 3, Mean: 8.25, Deviation: 2}, Company: 1.5, Drift: 0.25},
			Density:  scatter.DensityKept{Patches: 4, Dispersion: 0.31, Displaced: 0.0725},
		}
}

func written(t *testing.T, s Scope, units measure.Unit) string {
	t.Helper()
	w := work(t)
	w.Units = units
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, w, s))
	_, after, found := strings.Cut(b.String(), "## How the pieces lie\n")
	require.True(t, found)
	return after
}

func TestWhatWasAskedStandsBesideWhatCameOut(t *testing.T) {
	bare, err := Of(work(t))
	require.NoError(t, err)
	page := written(t, bare.Appraised(appraised()), measure.Millimetre)
	for _, row := range []string{
		"| Pieces | 4 | 3 |",
		"| The two closest centres | 96 mm or more | 250 mm |",
		"| From a centre to the nearest, on average | as far as goes | 812 mm |",
		"| Pieces astray from the density | as few as goes | 7.2 % |",
		"| Spread of the headings about the flow | 14° | 13.2° |",
		"| Strays, which head anywhere | 5 % | 4.1 % |",
		"| Heading the second way, 40° anticlockwise of the flow | 20 % | 18.5 % |",
		"| Heading 12° or more off each of their nearest | where the spread has such | 95.5 % |",
		"| How alike neighbours head |  | 0.91; any two -0.20 |",
		"| Neighbours of one kind | as few as goes | 3 of 20 pairs; by chance 8 |",
	} {
		assert.Contains(t, page, row)
	}
	assert.Contains(t, page, "its share of an even spread")
	assert.Contains(t, page, "comes to 0.31")
	assert.Contains(t, written(t, bare.Appraised(appraised()), measure.Inch), "| 3 3/4\" or more | 9 13/16\" |", "96 mm and 250 mm")
	assert.NotContains(t, written(t, bare, measure.Millimetre), "came out", "a work that nobody appraised")
}

func TestEveryWayOfMixingHasItsMeasure(t *testing.T) {
	bare, err := Of(work(t))
	require.NoError(t, err)
	for way, row := range map[mixing.Scheme]string{
		{Way: mixing.Drifting}:          "| Drift of one kind into the next | from 0 to 1 | 0.25 |",
		{Way: mixing.Families, Size: 5}: "| Pieces in a group of equals | 5 | 1.5 |",
	} {
		comp, found := appraised()
		comp.Mixing = way
		page := written(t, bare.Appraised(comp, found), measure.Millimetre)
		assert.Contains(t, page, row)
		assert.Contains(t, page, "| Neighbours of one kind |  | 3 of 20 pairs; by chance 8 |")
	}
	comp, found := appraised()
	found.Mixture.Equal = quality.Join{Pairs: 20, Mean: 20}
	assert.NotContains(t, written(t, bare.Appraised(comp, found), measure.Millimetre), "of one kind", "there is only one")
}

func TestAnAppraisalInJSON(t *testing.T) {
	bare, err := Of(work(t))
	require.NoError(t, err)
	s := bare.Appraised(appraised())
	var b bytes.Buffer
	require.NoError(t, WriteJSON(&b, s))
	var back Scope
	require.NoError(t, json.Unmarshal(b.Bytes(), &back))
	assert.Equal(t, s, back)
	assert.Equal(t, 11.23, *back.Lie.Deviation)
	assert.Equal(t, "scattered", back.Lie.Asked.Mixing, "what is meant where nothing is said")
	assert.Nil(t, bare.Lie, "appraising changes nothing of what it was given")

	none := bare.Appraised(scatter.Composition{}, scatter.Appraisal{})
	b.Reset()
	require.NoError(t, WriteJSON(&b, none))
	assert.Contains(t, b.String(), `"spread_deg": null`)
	assert.NotContains(t, written(t, none, measure.Millimetre), "Spread")
}

func TestWhatWasMovedForItsHolesIsListed(t *testing.T) {
	w := work(t)
	thrown := w.Layout.Pieces[1]
	thrown.At.X += 12
	thrown.ID = 0
	w.Layout.Seated = []scatter.Seat{{ID: 2, Thrown: thrown}}
	s, err := Of(w)
	require.NoError(t, err)
	require.Len(t, s.Seated, 1)
	assert.Equal(t, 2, s.Seated[0].Piece)
	page := written(t, s.Appraised(appraised()), measure.Millimetre)
	assert.Contains(t, page, "| Pieces moved or turned for their holes | as few as goes | 1 |")
	assert.Contains(t, page, "## Moved for their holes\n")
	assert.Contains(t, page, "\n- piece 2 moved 12 mm: ")
}

func TestPiecesAreCountedByKindOnEveryFace(t *testing.T) {
	s, err := Of(work(t))
	require.NoError(t, err)
	assert.Equal(t, []Hung{{"F", 1}, {"R", 1}, {"N", 0}}, s.Faces[0].Hung)
	assert.Equal(t, []Hung{{"F", 0}, {"R", 1}, {"N", 0}}, s.Faces[1].Hung)
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, work(t), s))
	assert.Contains(t, b.String(), "| Wall | Face | F | R | N |\n| --- | --- | ---: | ---: | ---: |\n| Long wall | wall | 1 | 1 | 0 |\n| Short wall | wall | 0 | 1 | 0 |")
}
