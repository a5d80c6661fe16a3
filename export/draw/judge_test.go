package draw_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// judge runs a program that is not ours on a file with the given bytes and returns what it says.
// Without the program the test is skipped, except where CI is true.
func judge(t *testing.T, file string, content []byte, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", program)
		}
		t.Skipf("%s is not installed", program)
	}
	path := filepath.Join(t.TempDir(), file)
	require.NoError(t, os.WriteFile(path, content, 0o644))
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "FILE", path)
	}
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", program, out)
	return string(out)
}
