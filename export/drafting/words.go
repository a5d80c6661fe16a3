package drafting

import (
	"slices"
	"strings"

	"wallshoal/export/number"
)

// Joined joins what is not empty.
func Joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), by)
}

// Count returns a number with the right form of its noun.
func Count(n int, one, many string) string {
	return number.Count(n, one, many)
}

// Letters returns the letters of a row, counted from 0: A to Z, then AA, AB and so on.
func Letters(row int) string {
	letters := ""
	for row >= 0 {
		letters = string(rune('A'+row%26)) + letters
		row = row/26 - 1
	}
	return letters
}
