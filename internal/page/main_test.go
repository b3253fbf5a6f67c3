package page

import (
	"os"
	"testing"

	"mudline/internal/browsertest"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Run(m)) }
