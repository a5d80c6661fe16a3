package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/contactpage"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/scatter/quality"
)

// TestVariantsComeOutTheSame lays variants twice: whichever processor is done first, the folder holds
// the same bytes, and each layout is what its seed alone gives.
func TestVariantsComeOutTheSame(t *testing.T) {
	t.Chdir(t.TempDir())
	var out, errs bytes.Buffer
	require.Zero(t, run([]string{"new", "hall.yaml"}, strings.NewReader(""), &out, &errs))
	for _, dir := range []string{"one", "two"} {
		require.Zero(t, run([]string{"lay", "hall.yaml", "--variants", "5", "-o", dir}, strings.NewReader(""), &out, &errs), errs.String())
	}
	files, err := filepath.Glob("one/*")
	require.NoError(t, err)
	assert.Len(t, files, 8, "with the list of them")
	for _, f := range files {
		first, err := os.ReadFile(f)
		require.NoError(t, err)
		second, err := os.ReadFile(filepath.Join("two", filepath.Base(f)))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(first, second), f)
	}
	out.Reset()
	require.Zero(t, run([]string{"lay", "hall.yaml", "--seed", "4"}, strings.NewReader(""), &out, &errs))
	alone, err := os.ReadFile("one/variant-4.layout.yaml")
	require.NoError(t, err)
	assert.Equal(t, string(alone), out.String())
}

// found is an appraisal with the figures that gauges look at.
func found(evenness, displaced, spread float64, equals int) variant {
	return variant{found: scatter.Appraisal{
		Pieces: 90, Evenness: scatter.Evenness{ClarkEvans: evenness},
		Headings: quality.Headings{Along: spread, Apart: displaced},
		Mixture:  scatter.Mixture{Kinds: 2, Pairs: 100, Equal: quality.Join{Pairs: equals}, Company: spread, Drift: evenness - 1},
		Density:  scatter.DensityKept{Patches: 9, Displaced: displaced},
	}}
}

// best returns for every measure which variants are marked.
func best(laid []variant) map[string][]int {
	out := map[string][]int{}
	for i, v := range laid {
		for _, m := range v.measures {
			if m.Best {
				out[m.Name] = append(out[m.Name], i)
			}
		}
	}
	return out
}

func TestTheBestOfEachMeasureIsMarked(t *testing.T) {
	laid := []variant{found(1.801, 0.09, 12.5, 10), found(1.804, 0.03, 14.6, 10), found(1.72, 0.05, 17, 10)}
	notes := compare(laid, scatter.Composition{Headings: heading.Scheme{Spread: 14}})
	assert.Equal(t, map[string][]int{
		"evenness": {0, 1}, // look the same
		"astray":   {1},
		"spread":   {1}, // nearest to 14, not the least
	}, best(laid), "all are alike in equals, so none is marked")
	assert.Equal(t, []contactpage.Measure{{Name: "evenness", Value: "1.80", Best: true}, {Name: "astray", Value: "9.0 %"}, {Name: "spread", Value: "12.5°"}, {Name: "equals", Value: "10 %"}}, laid[0].measures)
	assert.Len(t, notes, 4)
	assert.Contains(t, notes[1], "as many as its share")
}

func TestMeasuresFollowWhatIsWanted(t *testing.T) {
	for way, want := range map[mixing.Scheme][]int{
		{Way: mixing.Drifting}:           {1},
		{Way: mixing.Families, Size: 17}: {2},
	} {
		laid := []variant{found(1.81, 0.09, 12.5, 10), found(1.84, 0.03, 14.6, 12), found(1.72, 0.05, 17, 10)}
		compare(laid, scatter.Composition{Headings: heading.Scheme{Apart: 10}, Mixing: way})
		marks := best(laid)
		assert.Equal(t, want, marks[mixingGauge(way).name])
		assert.Equal(t, []int{0}, marks["differing"], "the most")
	}
	few := []variant{{found: scatter.Appraisal{Pieces: 1}}, {found: scatter.Appraisal{Pieces: 1}}}
	assert.Empty(t, compare(few, scatter.Composition{}), "nothing can be said of one piece")
}
