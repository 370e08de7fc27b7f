package preview

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// listen takes a port of this computer, which other computers cannot reach.
func listen(ctx context.Context, port int) (net.Listener, error) {
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err == nil {
		return listener, nil
	}
	var op *net.OpError
	if errors.As(err, &op) {
		err = op.Err
	}
	return nil, fmt.Errorf("port %d cannot be used: %w; stop the program that uses it, or choose another port with --port", port, err)
}

// running is a server at work.
type running struct{ close func() }

func serve(s *site, listener net.Listener) running {
	// Event streams never end by themselves, so they have a context of their own.
	streams, end := context.WithCancel(context.Background())
	port := strconv.Itoa(listener.Addr().(*net.TCPAddr).Port)
	server := &http.Server{Handler: guard(port, s.handler(streams)), ReadHeaderTimeout: 10 * time.Second}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_ = server.Serve(listener) // ends by Shutdown, which is no news
	}()
	return running{close: sync.OnceFunc(func() {
		end()
		patience, enough := context.WithTimeout(context.Background(), time.Second)
		defer enough()
		if server.Shutdown(patience) != nil {
			_ = server.Close()
		}
		<-ended
	})}
}
