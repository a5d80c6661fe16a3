package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wallshoal/examples"
	"wallshoal/scatter"
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

// BenchmarkLayDemo times the composition alone, of a plan that is read and a site that is surveyed:
// the demonstration as it is, and without the parting of its flow.
func BenchmarkLayDemo(b *testing.B) {
	for name, text := range map[string]string{
		"parted": examples.Ferry, "plain": strings.Replace(examples.Ferry, "part: true", "part: false", 1),
	} {
		b.Run(name, func(b *testing.B) {
			j, err := ready("ferry.yaml", []byte(text))
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := scatter.Lay(context.Background(), j.site, j.plan.Kinds, j.plan.Composition, j.plan.Seed, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
