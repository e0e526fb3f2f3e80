package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptrace"
	"sync/atomic"
	"time"
)

// attempt is one request: what goes out with it, and what is known of it when it failed.
type attempt struct {
	json   any          // parameters that go as JSON; nil: the library's form goes
	wrote  atomic.Bool  // its headers left: the platform may have done it
	status atomic.Int32 // HTTP status of the answer; 0: none came
}

type attemptKey struct{}

// watch gives a context under which the next send reports into an attempt.
func watch(ctx context.Context) (context.Context, *attempt) {
	a := &attempt{}
	return context.WithValue(ctx, attemptKey{}, a), a
}

// inJSON has the next send under this context carry its parameters as JSON, for which
// their types have the tags. The library makes a form of them, in a part each, on a
// goroutine of its own and through a pipe: needed for a file, and three times the work
// for a text.
func inJSON(ctx context.Context, params any) {
	if a, watched := ctx.Value(attemptKey{}).(*attempt); watched {
		a.json = params
	}
}

// sendClient is the library's door to the network. It holds the whole body, which
// lets net/http repeat by itself a request of which nothing was written (a
// connection that the server closed during a quiet hour), and notes whether
// anything was.
type sendClient struct{ http *http.Client }

// newSendClient has its own short-lived connections, apart from the poll's.
func newSendClient() *sendClient {
	return &sendClient{&http.Client{
		Timeout: 45 * time.Second, // near its limits the platform holds a send for some 15 s
		Transport: &http.Transport{
			Proxy:               http.ProxyFromEnvironment,
			DialContext:         (&net.Dialer{Timeout: 15 * time.Second}).DialContext,
			TLSHandshakeTimeout: 15 * time.Second,
			IdleConnTimeout:     15 * time.Second,
			MaxIdleConnsPerHost: inFlight,
			ForceAttemptHTTP2:   true,
		},
	}}
}

// Do implements the library's HttpClient.
func (c *sendClient) Do(req *http.Request) (*http.Response, error) {
	a, watched := req.Context().Value(attemptKey{}).(*attempt)
	if err := setBody(req, a); err != nil {
		return nil, err
	}
	if !watched {
		return c.http.Do(req)
	}
	// Headers are written to a buffer first and may not have left the machine; counting
	// them as left errs on the side of "unknown".
	req = req.WithContext(httptrace.WithClientTrace(req.Context(), &httptrace.ClientTrace{
		WroteHeaders: func() { a.wrote.Store(true) },
	}))
	res, err := c.http.Do(req)
	if err != nil {
		return nil, err
	}
	a.status.Store(int32(res.StatusCode))
	// The library decodes the whole message that was sent, with the one that it
	// answers, and fails at any part that is newer than it is: then a send that went
	// well would look like one of unknown fate. All that is needed is the number.
	body, err := readAll(io.LimitReader(res.Body, maxAnswer), max(0, res.ContentLength))
	res.Body.Close()
	if err != nil {
		return nil, err
	}
	res.Body = io.NopCloser(bytes.NewReader(slim(body)))
	return res, nil
}

// setBody replaces the library's body, a pipe that can be read once, by bytes, which
// have a length and can be given again.
func setBody(req *http.Request, a *attempt) (err error) {
	if req.Body == nil {
		return nil
	}
	defer req.Body.Close()
	var body []byte
	if a != nil && a.json != nil {
		body, err = json.Marshal(a.json)
		req.Header.Set("Content-Type", "application/json")
	} else {
		body, err = readAll(req.Body, 2<<10)
	}
	if err != nil {
		return err
	}
	req.GetBody = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(body)), nil }
	req.Body, _ = req.GetBody()
	req.ContentLength = int64(len(body))
	return nil
}

// readAll is io.ReadAll with a first guess of the size.
func readAll(r io.Reader, size int64) ([]byte, error) {
	b := bytes.NewBuffer(make([]byte, 0, min(size, maxAnswer)+bytes.MinRead))
	_, err := b.ReadFrom(r)
	return b.Bytes(), err
}

// sentBegins is how the platform answers where a message was sent; what follows is the
// message's number, and then all the rest of it.
var sentBegins = []byte(`{"ok":true,"result":{"message_id":`)

// slim leaves of an answer with a message nothing but the message's number.
func slim(body []byte) []byte {
	if rest, begins := bytes.CutPrefix(body, sentBegins); begins {
		if n := bytes.IndexFunc(rest, func(r rune) bool { return r < '0' || r > '9' }); n > 0 && rest[n] == ',' {
			return append(body[:len(sentBegins)+n:len(sentBegins)+n], "}}"...)
		}
	}
	var a struct {
		OK     bool `json:"ok"`
		Result struct {
			ID int64 `json:"message_id"`
		} `json:"result"`
	}
	if json.Unmarshal(body, &a) != nil || !a.OK || a.Result.ID == 0 {
		return body
	}
	return fmt.Appendf(nil, `{"ok":true,"result":{"message_id":%d}}`, a.Result.ID)
}
