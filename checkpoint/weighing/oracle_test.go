package weighing

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestMeanFactorOracle(t *testing.T) {
	f, err := os.Open(filepath.Join("testdata", "meanfactor.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		if strings.HasPrefix(s.Text(), "#") {
			continue
		}
		c := strings.Split(s.Text(), ",")
		n, err1 := strconv.Atoi(c[0])
		batch, err2 := strconv.Atoi(c[1])
		want, err3 := strconv.ParseFloat(c[2], 64)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(s.Text())
		}
		if got, err := MeanFactor(n, batch); err != nil || !(math.Abs(got-want) <= 1e-11*want) {
			t.Errorf("%d of %d: factor %v, want %v (%v)", n, batch, got, want, err)
		}
		rows++
	}
	if rows == 0 {
		t.Fatal("the oracle is empty")
	}
}
