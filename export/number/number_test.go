package number_test

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/number"
)

func TestGroup(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "0": "0", "999": "999", "1000": "1_000", "-1000": "-1_000", "-999": "-999", "12345.6789": "12_345.6789",
		"123456": "123_456", "1234567.50": "1_234_567.50", "-0.00": "-0.00", "1000.": "1_000.",
	} {
		assert.Equal(t, strings.ReplaceAll(want, "_", number.Space), number.Group(text), text)
	}
}

// Groups hold three digits, but the first, and without the spaces the number is there again.
func TestGroupsOfThree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		n := int(r.Int64() >> r.IntN(63))
		groups := strings.Split(number.Whole(n), number.Space)
		for _, g := range groups[1:] {
			assert.Len(t, g, 3)
		}
		assert.NotEmpty(t, groups[0])
		assert.LessOrEqual(t, len(groups[0]), 3)
		assert.Equal(t, strconv.Itoa(n), strings.Join(groups, ""))
	}
}

func TestCount(t *testing.T) {
	assert.Equal(t, "1 face", number.Of(1, "face"))
	assert.Equal(t, "0 faces", number.Of(0, "face"))
	assert.Equal(t, "1"+number.Space+"200 pieces", number.Of(1200, "piece"))
	assert.Equal(t, "2 boxes", number.Count(2, "box", "boxes"))
}

func TestRuns(t *testing.T) {
	for want, all := range map[string][]int{
		"": nil, "4": {4}, "4, 5": {4, 5}, "4 to 6": {4, 5, 6}, "1, 3, 7 to 10, 12, 13": {1, 3, 7, 8, 9, 10, 12, 13},
	} {
		assert.Equal(t, want, number.Runs(all))
	}
}
