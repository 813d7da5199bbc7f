module shothand

go 1.26.0

require (
	github.com/google/go-cmp v0.7.0
	go.etcd.io/bbolt v1.5.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	golang.org/x/tools v0.52.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)
