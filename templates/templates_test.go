package templates

import "testing"

func TestTablesAreRead(t *testing.T) {
	if _, err := Tables(); err != nil {
		t.Fatal(err)
	}
}
