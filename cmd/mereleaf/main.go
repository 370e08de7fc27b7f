// Mereleaf prints a pond keeper's field handbook from a folder of Markdown
// chapters, reference figures and calculators. Run "mereleaf help".
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"mereleaf/cmd/mereleaf/internal/command"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := command.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
