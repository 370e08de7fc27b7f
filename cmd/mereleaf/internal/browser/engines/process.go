//go:build unix

package engines

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"syscall"
)

// process is a program that was started, with all that it started itself, and the
// lines that they print.
type process struct {
	command *exec.Cmd
	ended   chan struct{} // closed when all output has been read

	mu      sync.Mutex
	lines   []string
	changed chan struct{} // closed and renewed with each line
}

func run(environment []string, name string, arguments ...string) (*process, error) {
	p := &process{command: exec.Command(name, arguments...), ended: make(chan struct{}), changed: make(chan struct{})}
	p.command.Env = append(os.Environ(), environment...)
	p.command.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // so that close ends all of them
	read, write, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	p.command.Stdout, p.command.Stderr = write, write
	err = p.command.Start()
	write.Close()
	if err != nil {
		read.Close()
		return nil, err
	}
	go p.listen(read)
	return p, nil
}

func (p *process) listen(output io.ReadCloser) {
	defer close(p.ended)
	defer output.Close()
	for r := bufio.NewReader(output); ; {
		line, err := r.ReadString('\n')
		if err != nil {
			return
		}
		p.mu.Lock()
		p.lines = append(p.lines, line[:len(line)-1])
		close(p.changed)
		p.changed = make(chan struct{})
		p.mu.Unlock()
	}
}

// await waits for a line of which read accepts something.
func (p *process) await(ctx context.Context, read func(line string) bool) error {
	for next := 0; ; {
		p.mu.Lock()
		lines, changed := p.lines, p.changed
		p.mu.Unlock()
		for ; next < len(lines); next++ {
			if read(lines[next]) {
				return nil
			}
		}
		select {
		case <-changed:
		case <-p.ended:
			return fmt.Errorf("%s has ended: %q", p.command.Path, lines)
		case <-ctx.Done():
			return fmt.Errorf("%s does not get ready: %q: %w", p.command.Path, lines, ctx.Err())
		}
	}
}

// said returns what has been printed since the last call.
func (p *process) said() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	lines := p.lines
	p.lines = nil
	return lines
}

func (p *process) close() {
	_ = syscall.Kill(-p.command.Process.Pid, syscall.SIGKILL)
	_ = p.command.Wait() // it was killed
	<-p.ended
}
