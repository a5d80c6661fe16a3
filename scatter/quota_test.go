package scatter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
)

// TestQuotasOfFormsAndSizes: dealt out kind by kind, the six forms and sizes of A would take 151 of
// 200, of which three quarters are its own.
func TestQuotasOfFormsAndSizes(t *testing.T) {
	share := func(of string, share float64) scatter.Kind { return scatter.Kind{Of: of, Share: share} }
	a := []scatter.Kind{share("A", 0.375), share("A", 0.375), share("A", 0.75), share("A", 0.75), share("A", 0.375), share("A", 0.375)}
	got, err := scatter.Quotas(append(a, share("B", 0.25), share("B", 0.75)), 200)
	require.NoError(t, err)
	// Of 150: four times 18.75 and twice 37.5; of 50: 12.5 and 37.5.
	assert.Equal(t, []int{19, 19, 37, 37, 19, 19, 13, 37}, got)

	got, err = scatter.Quotas([]scatter.Kind{share("", 1), {Of: "A", Count: 5}, share("", 1), share("A", 2)}, 13)
	require.NoError(t, err)
	assert.Equal(t, []int{2, 5, 2, 4}, got, "kinds that are forms of nothing share by themselves")
}
