package desk_test

import (
	"encoding/json"
	"encoding/xml"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
)

func TestSheetForThePage(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	ask := func(request string) (out struct{ Identity, SVG string }) {
		t.Helper()
		a, err := d.Ask("sheet", []byte(request))
		require.NoError(t, err)
		text, err := json.Marshal(a)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &out))
		return out
	}
	one := ask(`{"name":"<plot> & 7","paper":"letter","language":"es"}`)
	assert.Contains(t, one.SVG, `width="215.9mm"`)
	assert.Contains(t, one.SVG, "&lt;plot&gt; &amp; 7")
	require.NoError(t, xml.Unmarshal([]byte(one.SVG), new(struct{})))
	assert.Equal(t, one, ask(`{"name":"<plot> & 7","paper":"letter","language":"es","identity":"`+one.Identity+`"}`))
	for _, bad := range []string{`{"paper":"a3"}`, `{"identity":"12"}`} {
		_, err := d.Ask("sheet", []byte(bad))
		assert.Error(t, err, bad)
	}
}
