module example.org/evenlot

go 1.26.0

require (
	github.com/google/go-cmp v0.7.0
	github.com/shopspring/decimal v1.6.0
	gonum.org/v1/gonum v0.17.0
)
