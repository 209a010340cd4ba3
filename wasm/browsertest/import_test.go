package browsertest

import (
	"os/exec"
	"regexp"
	"strconv"
	"testing"
)

// The reader of a file of lots, given files damaged at random; longer runs are
// `node import_fuzz.mjs 600`.
func TestImportAtRandom(t *testing.T) {
	t.Parallel()
	out, err := exec.Command(need(t, "node", "nodejs"), "import_fuzz.mjs", "3").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	m := regexp.MustCompile(`^(\d+) files, (\d+) of them read`).FindSubmatch(out)
	if m == nil {
		t.Fatalf("it says %s", out)
	}
	for _, n := range m[1:] {
		if n, err := strconv.Atoi(string(n)); err != nil || n < 20 {
			t.Errorf("too few to tell: %s", out)
		}
	}
	t.Logf("%s", out)
}
