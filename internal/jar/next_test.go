package jar

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/texture"
)

func TestNextPhotoInWords(t *testing.T) {
	assert.Nil(t, nextPhoto(nil))
	assert.Nil(t, nextPhoto(&texture.Result{}))
	later := nextPhoto(&texture.Result{Next: &texture.Next{ElapsedS: 86400, WidthNow: 36.4, WidthThen: 21.6}})
	assert.Equal(t, "One more photo about 1 d after shaking would narrow the widest of the three ranges from 36 to about 22 points.", later.Text)
	again := nextPhoto(&texture.Result{Next: &texture.Next{ElapsedS: 1200, Again: true, WidthNow: 36.4, WidthThen: 21.6}})
	assert.Equal(t, "Shake the jar again and add a photo about 20 min after that: it would narrow the widest of the three ranges from 36 to about 22 points.", again.Text)
	assert.True(t, again.Again)
}
