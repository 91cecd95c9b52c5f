// Command buckwright makes printable tooling for small runs of formed, lined cases.
package main

import "os"

func main() {
	keepSmall()
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
