package telegram

import (
	"context"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// doors are the parts that listen: the webhook and the health page, where they are
// asked for. Their addresses are taken before anything runs, so that one that is in
// use is told at the start and not found out in silence.
func (b *tg) doors() ([]func(context.Context), error) {
	var parts []func(context.Context)
	for _, d := range []struct {
		what, addr string
		h          http.HandlerFunc
		ready      func(context.Context)
	}{
		{"webhook", b.cfg.Webhook.Listen, b.posted, func(ctx context.Context) { go b.setHook(ctx) }},
		{"health page", b.cfg.Health, b.healthPage, func(context.Context) {}},
	} {
		if d.addr == "" || d.what == "webhook" && b.cfg.Webhook.URL == "" {
			continue
		}
		l, err := net.Listen("tcp", d.addr)
		if err != nil {
			return nil, fmt.Errorf("%s: cannot listen on %s: %w", d.what, d.addr, err)
		}
		parts = append(parts, func(ctx context.Context) {
			d.ready(ctx)
			b.serve(ctx, d.what, l, d.h)
		})
	}
	return parts, nil
}

// serve answers until ctx ends, then lets requests finish.
func (b *tg) serve(ctx context.Context, what string, l net.Listener, h http.Handler) {
	srv := &http.Server{
		Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 30 * time.Second, MaxHeaderBytes: 16 << 10,
		ErrorLog: log.New(io.Discard, "", 0), // it would print what a request held
	}
	stopped := make(chan struct{})
	go func() {
		<-ctx.Done()
		grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		srv.Shutdown(grace)
		close(stopped)
	}()
	if err := srv.Serve(l); err != nil && err != http.ErrServerClosed {
		b.cfg.Log.Error(what+": stopped listening", "error", b.redact(err))
		return
	}
	<-stopped
}
