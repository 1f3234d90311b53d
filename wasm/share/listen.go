package main

import (
	"net"
	"sync"
)

// bounded limits how many connections are open at a time; others wait for one to end.
type bounded struct {
	net.Listener
	free chan struct{}
}

func (b *bounded) Accept() (net.Conn, error) {
	b.free <- struct{}{}
	c, err := b.Listener.Accept()
	if err != nil {
		<-b.free
		return nil, err
	}
	return &counted{Conn: c, done: sync.OnceFunc(func() { <-b.free })}, nil
}

// counted is a connection that gives its place to another when it ends.
type counted struct {
	net.Conn
	done func()
}

func (c *counted) Close() error {
	defer c.done()
	return c.Conn.Close()
}
