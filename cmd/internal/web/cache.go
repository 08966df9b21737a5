package web

import (
	"container/list"
	"context"
	"sync"
)

// cache keeps the results used last, by the hash of what they were made from.
// Whoever asks for a result that is being made waits for it.
type cache[V any] struct {
	mu    sync.Mutex
	most  int
	kept  map[string]*list.Element
	order *list.List // of *cached[V], the one used last in front
}

type cached[V any] struct {
	key   string
	ready chan struct{} // closed when value and err hold
	value V
	err   error
}

func newCache[V any](most int) *cache[V] {
	return &cache[V]{most: most, kept: make(map[string]*list.Element), order: list.New()}
}

// get gives the result of a key and makes it where there is none. The making
// goes on when the one who asked first goes away; an error is not kept.
func (c *cache[V]) get(ctx context.Context, key string, produce func() (V, error)) (V, error) {
	c.mu.Lock()
	at, ok := c.kept[key]
	if !ok {
		at = c.order.PushFront(&cached[V]{key: key, ready: make(chan struct{})})
		c.kept[key] = at
		c.dropOld()
		go c.fill(at, produce)
	}
	c.order.MoveToFront(at)
	one := at.Value.(*cached[V])
	c.mu.Unlock()
	select {
	case <-one.ready:
		return one.value, one.err
	case <-ctx.Done():
		var none V
		return none, ctx.Err()
	}
}

// fill makes a result, and forgets it where it is an error.
func (c *cache[V]) fill(at *list.Element, produce func() (V, error)) {
	one := at.Value.(*cached[V])
	one.value, one.err = guarded(produce)
	if one.err != nil {
		c.mu.Lock()
		if c.kept[one.key] == at {
			delete(c.kept, one.key)
			c.order.Remove(at)
		}
		c.mu.Unlock()
	}
	close(one.ready)
}

// dropOld drops the results that were not used for the longest time.
func (c *cache[V]) dropOld() {
	for c.order.Len() > c.most {
		last := c.order.Back()
		delete(c.kept, last.Value.(*cached[V]).key)
		c.order.Remove(last)
	}
}
