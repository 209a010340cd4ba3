package main

import (
	"os"
	"syscall"
)

// peak is the largest memory that a process had, in bytes.
func peak(s *os.ProcessState) int64 {
	if usage, ok := s.SysUsage().(*syscall.Rusage); ok {
		return usage.Maxrss << 10
	}
	return 0
}
