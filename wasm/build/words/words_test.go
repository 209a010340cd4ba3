package words

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestDump(t *testing.T) {
	k, err := Keys(filepath.Join("..", "..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	b, _ := json.MarshalIndent(k, "", " ")
	os.WriteFile("/tmp/keys.json", b, 0o644)
	t.Log(len(slices.Collect(maps.Keys(k))))
}
