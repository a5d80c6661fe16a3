package view

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"net"
	"path/filepath"
	"strconv"
)

// The dynamic ports, which nobody is assigned: RFC 6335, section 6.
const (
	firstDynamic = 49152
	dynamic      = 65535 - firstDynamic + 1
)

// tries is how many ports are a plan's own. What a browser keeps it keeps by address, so that a plan is to have the
// same at every start.
const tries = 4

// ownPorts returns the ports of the plan at path, the usual one first: drawn from where the plan lies.
func ownPorts(path string) []int {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	sum := sha256.Sum256([]byte(path))
	ports := make([]int, tries)
	for i := range ports {
		ports[i] = firstDynamic + int(binary.BigEndian.Uint16(sum[2*i:]))%dynamic
	}
	return ports
}

// listen listens at an address; where it is empty, at the loopback address and the plan's usual port, or where that is
// taken at another of its own, or at any that is free. It returns the usual address where it could not have that.
func listen(ctx context.Context, address, plan string) (at net.Listener, missed string, err error) {
	var config net.ListenConfig
	if address != "" {
		if at, err = config.Listen(ctx, "tcp", address); err != nil {
			return nil, "", fmt.Errorf("cannot listen on %s: %w", address, err)
		}
		return at, "", nil
	}
	for _, port := range append(ownPorts(plan), 0) {
		own := net.JoinHostPort("127.0.0.1", strconv.Itoa(port))
		if at, err = config.Listen(ctx, "tcp", own); err == nil {
			return at, missed, nil
		}
		if missed == "" {
			missed = own
		}
	}
	return nil, "", fmt.Errorf("cannot listen on 127.0.0.1: %w", err)
}
