package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// little is a site of one file, so that these tests need no built page.
var little = map[string][]byte{"index.html": []byte("<h1>jars</h1>"), "js/a.js": []byte("1")}

func TestPageIsWrittenWhole(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "site")
	var out bytes.Buffer
	require.NoError(t, pageOptions{folder: folder}.write(little, &out, nil))
	assert.Contains(t, out.String(), "2 files")
	s := httptest.NewServer(http.FileServer(http.Dir(folder)))
	defer s.Close()
	r, err := http.Get(s.URL + "/js/a.js")
	require.NoError(t, err)
	defer r.Body.Close()
	text, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	assert.Equal(t, "1", string(text))

	inTheWay := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(inTheWay, nil, 0o644))
	err = pageOptions{folder: inTheWay}.write(little, io.Discard, nil)
	var input *inputError
	assert.ErrorAs(t, err, &input)
}

// shared is a buffer that a server writes while a test reads.
type shared struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *shared) Write(p []byte) (int, error) { s.mu.Lock(); defer s.mu.Unlock(); return s.b.Write(p) }
func (s *shared) String() string              { s.mu.Lock(); defer s.mu.Unlock(); return s.b.String() }

var localAddress = regexp.MustCompile(`http://localhost:(\d+)/`)

func TestPageIsForThisMachineOnly(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	out := &shared{}
	done := make(chan error, 1)
	go func() { done <- pageOptions{quiet: true}.serve(ctx, little, out, nil) }()
	var port string
	require.Eventually(t, func() bool {
		m := localAddress.FindStringSubmatch(out.String())
		if m != nil {
			port = m[1]
		}
		return m != nil
	}, time.Minute, 10*time.Millisecond)

	r, err := http.Get("http://127.0.0.1:" + port + "/")
	require.NoError(t, err)
	r.Body.Close()
	assert.Equal(t, http.StatusOK, r.StatusCode)
	addresses, err := net.InterfaceAddrs()
	require.NoError(t, err)
	for _, a := range addresses { // no other address of this machine answers
		n, ok := a.(*net.IPNet)
		if !ok || n.IP.IsLoopback() || n.IP.IsLinkLocalUnicast() {
			continue
		}
		c, err := net.DialTimeout("tcp", net.JoinHostPort(n.IP.String(), port), time.Second)
		if err == nil {
			c.Close()
		}
		assert.Error(t, err, n.IP)
	}

	taken, err := strconv.Atoi(port)
	require.NoError(t, err)
	err = pageOptions{quiet: true, port: taken}.serve(context.Background(), little, io.Discard, nil)
	var input *inputError
	require.ErrorAs(t, err, &input)
	assert.Contains(t, input.hint.String(), "--port")

	stop()
	select {
	case err := <-done:
		assert.NoError(t, err)
	case <-time.After(time.Minute):
		t.Fatal("Ctrl-C does not end it")
	}
}

func TestPagePortsThatDoNotExist(t *testing.T) {
	r := command(t, nil, "page", "--port", "70000")
	assert.Equal(t, statusInput, r.status)
}
