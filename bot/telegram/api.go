package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"
)

// apiError is a refusal by the platform.
type apiError struct {
	Method      string
	Code        int
	Description string
	RetryAfter  time.Duration
}

// Error names the method and what the platform said: neither holds a name or a
// text of the household.
func (e *apiError) Error() string { return fmt.Sprintf("%s: %d %s", e.Method, e.Code, e.Description) }

// maxAnswer bounds an answer of the platform: 100 updates of the largest size
// stay well below.
const maxAnswer = 32 << 20

// call makes a request that is not a send and decodes its result into dst.
// Errors: *apiError for a refusal, else what the network said, redacted.
func (b *tg) call(ctx context.Context, method string, params any, dst any) error {
	body, err := json.Marshal(params)
	if err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, b.cfg.APIURL+"/bot"+b.cfg.Token+"/"+method, bytes.NewReader(body))
	if err != nil {
		return b.redact(err)
	}
	req.Header.Set("Content-Type", "application/json")
	res, err := b.cfg.Client.Do(req)
	if err != nil {
		return fmt.Errorf("%s: %w", method, b.redact(err))
	}
	defer res.Body.Close()
	data, err := io.ReadAll(io.LimitReader(res.Body, maxAnswer))
	if err != nil {
		return fmt.Errorf("%s: %w", method, b.redact(err))
	}
	return readAnswer(method, res.StatusCode, data, dst)
}

// readAnswer opens the envelope. What is no envelope comes from something in
// between (a proxy's page), and its status is all that is told of it.
func readAnswer(method string, status int, data []byte, dst any) error {
	var a struct {
		OK          bool            `json:"ok"`
		Result      json.RawMessage `json:"result"`
		Code        int             `json:"error_code"`
		Description string          `json:"description"`
		Parameters  struct {
			RetryAfter int `json:"retry_after"`
		} `json:"parameters"`
	}
	if err := json.Unmarshal(data, &a); err != nil {
		return &apiError{Method: method, Code: status, Description: "an answer that is not of the Bot API"}
	}
	if !a.OK {
		return &apiError{method, a.Code, a.Description, time.Duration(a.Parameters.RetryAfter) * time.Second}
	}
	if dst == nil {
		return nil
	}
	if err := json.Unmarshal(a.Result, dst); err != nil {
		return fmt.Errorf("%s: result: %w", method, err)
	}
	return nil
}

// code is the platform's error code, 0 for any other error.
func code(err error) int {
	var a *apiError
	if errors.As(err, &a) {
		return a.Code
	}
	return 0
}

// me is what getMe says of this bot.
type me struct {
	ID       int64  `json:"id"`
	Username string `json:"username"`
	SeesAll  bool   `json:"can_read_all_group_messages"`
}

// self asks once who the bot is; until it is known each call asks again.
func (b *tg) self(ctx context.Context) (me, error) {
	b.mu.Lock()
	known := b.who
	b.mu.Unlock()
	if known.ID != 0 {
		return known, nil
	}
	return b.askSelf(ctx)
}

// askSelf asks whatever is known already.
func (b *tg) askSelf(ctx context.Context) (me, error) {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	var m me
	if err := b.call(ctx, "getMe", struct{}{}, &m); err != nil {
		return me{}, err
	}
	b.mu.Lock()
	b.who = m
	b.mu.Unlock()
	b.cfg.Access.SetBotName(m.Username)
	return m, nil
}

// stillThere asks whether somebody is in a group. An answer that does not come
// counts as yes: nobody is thrown out for a bad line.
func (b *tg) stillThere(ctx context.Context, group, user int64) bool {
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	var m struct {
		Status   string `json:"status"`
		IsMember *bool  `json:"is_member"` // of a restricted one
	}
	err := b.call(ctx, "getChatMember", map[string]int64{"chat_id": group, "user_id": user}, &m)
	if err != nil {
		return true
	}
	return m.Status != "left" && m.Status != "kicked" && (m.IsMember == nil || *m.IsMember)
}

// pollTransport keeps a long poll's connection and gives up on a dead line.
func pollTransport() *http.Transport {
	return &http.Transport{
		Proxy:                 http.ProxyFromEnvironment,
		DialContext:           (&net.Dialer{Timeout: 15 * time.Second, KeepAlive: 15 * time.Second}).DialContext,
		TLSHandshakeTimeout:   15 * time.Second,
		MaxIdleConnsPerHost:   4,
		IdleConnTimeout:       60 * time.Second,
		ForceAttemptHTTP2:     true,
		ResponseHeaderTimeout: 65 * time.Second,
	}
}
