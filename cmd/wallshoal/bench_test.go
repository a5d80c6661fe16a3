package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wallshoal/examples"
)

// BenchmarkCommands times the commands on the demonstration, from reading the plan to the last
// file written.
func BenchmarkCommands(b *testing.B) {
	plan := filepath.Join(b.TempDir(), "ferry.yaml")
	if err := os.WriteFile(plan, []byte(examples.Ferry), 0o600); err != nil {
		b.Fatal(err)
	}
	for _, args := range [][]string{{"check", plan}, {"lay", plan}, {"pack", plan, "-o", filepath.Join(b.TempDir(), "pack")}} {
		b.Run(args[0], func(b *testing.B) {
			for b.Loop() {
				var out, errs bytes.Buffer
				if code := run(args, strings.NewReader(""), &out, &errs); code != 0 {
					b.Fatal(fmt.Sprint(code, errs.String()))
				}
			}
		})
	}
}
