package yamlfile

import (
	"strings"
	"unicode/utf8"
)

// Nearest returns the known word that a slip of the hand could have turned into word: letters in
// another case, one letter missing, added, changed or swapped with its neighbour in a word of three
// letters or more, or two such slips in one of six or more. It returns "" where there is none, and
// the first of several that are equally near.
func Nearest(word string, known []string) string {
	const longest = 40 // runes; the comparison takes the product of the lengths
	if utf8.RuneCountInString(word) > longest {
		return ""
	}
	best, least := "", 3
	for _, k := range known {
		d := slips(plainWord(word), plainWord(k))
		allowed := min(2, utf8.RuneCountInString(k)/3)
		if d <= allowed && d < least {
			best, least = k, d
		}
	}
	return best
}

// plainWord returns word in small letters, with one sign for the hyphen, the underscore and the
// space.
func plainWord(word string) string {
	return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(word))
}

// slips returns the least number of single letters missing, added, changed or swapped with their
// neighbour that turn a into b: the optimal string alignment distance.
func slips(a, b string) int {
	from, to := []rune(a), []rune(b)
	before, last := make([]int, len(to)+1), make([]int, len(to)+1)
	for j := range last {
		last[j] = j
	}
	for i := range from {
		row := make([]int, len(to)+1)
		row[0] = i + 1
		for j := range to {
			cost := 1
			if from[i] == to[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && from[i] == to[j-1] && from[i-1] == to[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(to)]
}
