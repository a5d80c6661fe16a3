// Command wallshoal plans wall works made of hundreds of small pieces: it turns measured walls and
// an idea of movement into pictures, counts, and full-size paper templates for every hole.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
