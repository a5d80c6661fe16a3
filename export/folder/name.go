package folder

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// longestName is the most bytes a file name may have; every system in use takes this many.
const longestName = 120

// checkNames returns every fault in the names of the files: those that some system would refuse or
// take for a path, and those that would fall on one another where capitals do not count.
func checkNames(files []File) error {
	var faults []error
	first := make(map[string]string, len(files))
	for _, f := range files {
		if err := checkName(f.Name); err != nil {
			faults = append(faults, err)
			continue
		}
		key := folded(f.Name)
		if other, taken := first[key]; taken {
			faults = append(faults, fmt.Errorf("the files %q and %q would fall on one another; name one otherwise", other, f.Name))
		}
		first[key] = f.Name
	}
	return errors.Join(faults...)
}

// folded returns name as a system sees it that tells apart neither capitals nor the two ways to
// write an accent.
func folded(name string) string { return norm.NFC.String(cases.Fold().String(norm.NFC.String(name))) }

// checkName returns what is wrong with name as the name of a file on Linux, macOS and Windows.
func checkName(name string) error {
	switch {
	case name == "":
		return errors.New("a file has no name")
	case len(name) > longestName:
		return fmt.Errorf("the file name %q is longer than %d bytes", name, longestName)
	case !utf8.ValidString(name):
		return fmt.Errorf("the file name %q is not UTF-8", name)
	case strings.ContainsAny(name, `/\:*?"<>|`):
		return fmt.Errorf("the file name %q has a character that some systems do not take", name)
	case strings.ContainsFunc(name, invisible):
		return fmt.Errorf("the file name %q has a character that cannot be seen", name)
	case strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-"):
		return fmt.Errorf("the file name %q begins with %q", name, name[:1])
	case strings.Trim(name, " ") != name || strings.HasSuffix(name, "."):
		return fmt.Errorf("the file name %q begins or ends with a space, or ends with a full stop", name)
	case reserved(name):
		return fmt.Errorf("the file name %q stands for a device on Windows", name)
	}
	return nil
}

// invisible reports whether r is a control or a mark that changes the direction or look of a name
// without being seen.
func invisible(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }

// reserved reports whether Windows takes name for a device, whatever its ending.
func reserved(name string) bool {
	stem, _, _ := strings.Cut(name, ".")
	stem = strings.ToUpper(strings.TrimRight(stem, " "))
	switch stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	number, port := strings.CutPrefix(stem, "COM")
	if !port {
		number, port = strings.CutPrefix(stem, "LPT")
	}
	return port && utf8.RuneCountInString(number) == 1 && strings.Contains("0123456789¹²³", number)
}

// longestSlug is the most bytes that Slug returns.
const longestSlug = 60

// Slug returns name as a part of a file name: lower case, its letters and digits kept in whatever
// script they are, everything else turned into single hyphens, and at most 60 bytes. Letters are
// not spelled out in Latin, because no spelling of a name is right for every language and the
// person who named the wall reads their own. A name without a letter or digit gives "wall".
//
// Two names can give the same slug, so number the files as well.
func Slug(name string) string {
	lower := norm.NFC.String(strings.ToLower(norm.NFC.String(strings.ToValidUTF8(name, " "))))
	var b strings.Builder
	gap := false
	for _, r := range lower {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), unicode.IsMark(r) && b.Len() > 0 && !gap:
			size := utf8.RuneLen(r)
			if gap && b.Len() > 0 {
				size++
			}
			if b.Len()+size > longestSlug {
				return whole(b.String())
			}
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
		default:
			gap = true
		}
	}
	return whole(b.String())
}

// whole returns slug, or what stands in for it where it cannot be a name by itself.
func whole(slug string) string {
	switch {
	case slug == "":
		return "wall"
	case reserved(slug):
		return "wall-" + slug
	}
	return slug
}
