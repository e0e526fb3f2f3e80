package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"
)

// pool is one set of connections with the statements prepared on it.
type pool struct {
	db     *sql.DB
	mu     sync.RWMutex
	stmts  map[string]*sql.Stmt
	wanted map[string]bool // met in a transaction, to be prepared after it
}

func newPool(dsn string, conns int) (*pool, error) {
	d, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, classify(err)
	}
	d.SetMaxOpenConns(conns)
	d.SetMaxIdleConns(conns)
	return &pool{db: d, stmts: map[string]*sql.Stmt{}, wanted: map[string]bool{}}, nil
}

func (p *pool) close() error {
	if p == nil {
		return nil
	}
	return p.db.Close()
}

// stmt returns the prepared form of a query, nil where it is met for the first
// time. Preparing it then and there would wait for the very connection that the
// transaction holds.
func (p *pool) stmt(query string) *sql.Stmt {
	p.mu.RLock()
	s, known := p.stmts[query], p.wanted[query]
	p.mu.RUnlock()
	if s == nil && !known {
		p.mu.Lock()
		p.wanted[query] = true
		p.mu.Unlock()
	}
	return s
}

// learn prepares what the last transactions met. It holds no lock while it waits
// for a connection: the transaction that has it asks for statements too. A query
// that cannot be prepared tells its error whenever it is run.
func (p *pool) learn(ctx context.Context) {
	p.mu.Lock()
	take := p.wanted
	p.wanted = map[string]bool{}
	p.mu.Unlock()
	for q := range take {
		s, err := p.db.PrepareContext(ctx, q)
		if err != nil {
			continue
		}
		p.mu.Lock()
		if p.stmts[q] == nil {
			p.stmts[q], s = s, nil
		}
		p.mu.Unlock()
		if s != nil {
			s.Close() // somebody else was quicker
		}
	}
}

func (p *pool) curious() bool {
	p.mu.RLock()
	defer p.mu.RUnlock()
	return len(p.wanted) > 0
}

// Tx is one transaction. It is valid only inside the function it was given to,
// and for one goroutine.
type Tx struct {
	db  *DB
	on  *pool
	tx  *sql.Tx
	ctx context.Context

	shelf   *shelf  // nil: this transaction only reads
	behind  *behind // nil: each write is carried out before the next thing is done
	written []mark
	entered int   // rows of the book written so far
	fresh   int64 // the message made last, and its book
	freshOf int64
	after   []func()
}

// OnCommit has f called once the transaction is committed, before Update or Batch
// returns; never where it is undone.
func (tx *Tx) OnCommit(f func()) { tx.after = append(tx.after, f) }

// Entered counts the rows of the book that the transaction wrote so far, those of
// undone savepoints included.
func (tx *Tx) Entered() int { return tx.entered }

// Update runs f in one write transaction: all or nothing. A panic in f undoes it
// and goes on.
func (db *DB) Update(ctx context.Context, f func(*Tx) error) error {
	if db.write == nil {
		return ErrReadOnly
	}
	if err := db.takeTurn(ctx); err != nil {
		return err
	}
	defer func() { <-db.turn }()
	return db.run(ctx, db.write, nil, f)
}

// takeTurn waits until nobody else writes. The shelf must be right before the next
// transaction looks at it, which the pool alone would let in too early.
func (db *DB) takeTurn(ctx context.Context) error {
	db.waiting.Add(1)
	defer db.waiting.Add(-1)
	select {
	case db.turn <- struct{}{}:
		return nil
	case <-ctx.Done():
		return classify(ctx.Err())
	}
}

// View runs f in a read-only transaction on a consistent snapshot, beside the
// writer.
func (db *DB) View(ctx context.Context, f func(*Tx) error) error {
	return db.run(ctx, db.read, &sql.TxOptions{ReadOnly: true}, f)
}

func (db *DB) run(ctx context.Context, on *pool, o *sql.TxOptions, f func(*Tx) error) error {
	tx := &Tx{db: db, on: on, ctx: ctx}
	if on == db.write {
		tx.shelf = &db.shelf
	}
	if err := tx.open(o); err != nil {
		return err
	}
	done := false
	defer func() {
		if !done {
			tx.unwrite(0)
			tx.tx.Rollback()
		}
	}()
	if err := f(tx); err != nil {
		return classify(err)
	}
	if err := tx.tx.Commit(); err != nil {
		return classify(err)
	}
	done = true
	for _, f := range tx.after {
		f()
	}
	return nil
}

// open begins the transaction.
func (tx *Tx) open(o *sql.TxOptions) (err error) {
	if tx.on.curious() {
		tx.on.learn(tx.ctx)
	}
	if tx.tx, err = tx.on.db.BeginTx(tx.ctx, o); err != nil {
		return classify(err)
	}
	if tx.shelf == nil {
		return nil
	}
	if err := tx.looked(); err != nil {
		tx.tx.Rollback()
		return classify(err)
	}
	return nil
}

// follow begins the transaction right behind another of this connection, whose writes
// stand on the shelf already.
func (tx *Tx) follow() (err error) {
	t, err := tx.on.db.BeginTx(tx.ctx, nil)
	if err != nil {
		return classify(err)
	}
	tx.tx = t
	v, err := tx.version()
	if err == nil && v != tx.shelf.data {
		err = errOthers
	}
	return classify(err)
}

// version moves when another connection has written.
func (tx *Tx) version() (v int64, err error) {
	const query = "PRAGMA data_version"
	if s := tx.on.stmt(query); s != nil {
		err = tx.tx.StmtContext(tx.ctx, s).QueryRowContext(tx.ctx).Scan(&v)
	} else {
		err = tx.tx.QueryRowContext(tx.ctx, query).Scan(&v)
	}
	return v, err
}

// errTorn says that a savepoint could not be undone alone.
var errTorn = errors.New("the shared commit is torn")

// Batch runs several messages in one commit, each under its own savepoint: a
// failure or panic undoes only its own. Last runs after them in the same commit, and
// its failure undoes all. The slice holds an error for each; where the commit
// itself fails, all have it.
func (db *DB) Batch(ctx context.Context, fs []func(*Tx) error, last ...func(*Tx) error) []error {
	errs := make([]error, len(fs))
	if len(fs) == 0 {
		return errs
	}
	err := db.Update(ctx, func(tx *Tx) error {
		for i, f := range fs {
			errs[i] = tx.savepoint(f)
			if errors.Is(errs[i], errTorn) {
				return errs[i]
			}
		}
		for _, f := range last {
			if err := f(tx); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		for i := range errs {
			errs[i] = err
		}
	}
	return errs
}

// savepoint runs f so that its failure undoes f alone. A full or failing disk
// makes SQLite undo the whole transaction by itself; the savepoint is gone then,
// and going on would write outside any transaction.
func (tx *Tx) savepoint(f func(*Tx) error) error {
	if err := tx.exec("SAVEPOINT one"); err != nil {
		return fmt.Errorf("%w: %w", errTorn, err)
	}
	since := len(tx.written)
	err := guard(tx, f)
	if err != nil {
		tx.unwrite(since)
		if e := tx.exec("ROLLBACK TO one"); e != nil {
			return fmt.Errorf("%w: %w; %w", errTorn, err, e)
		}
	}
	if e := tx.exec("RELEASE one"); e != nil {
		return errors.Join(fmt.Errorf("%w: %w", errTorn, e), err)
	}
	return classify(err)
}

func guard(tx *Tx, f func(*Tx) error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	return f(tx)
}

// caughtUp is nil where every write so far is carried out.
func (tx *Tx) caughtUp() error {
	if tx.behind == nil {
		return nil
	}
	return tx.behind.caughtUp()
}

// result carries out a write whose outcome is wanted.
func (tx *Tx) result(query string, args []any) (sql.Result, error) {
	if err := tx.caughtUp(); err != nil {
		return nil, err
	}
	return tx.now(query, args)
}

func (tx *Tx) now(query string, args []any) (sql.Result, error) {
	if s := tx.on.stmt(query); s != nil {
		return tx.tx.StmtContext(tx.ctx, s).ExecContext(tx.ctx, args...)
	}
	return tx.tx.ExecContext(tx.ctx, query, args...)
}

func (tx *Tx) rows(query string, args []any) (*sql.Rows, error) {
	if err := tx.caughtUp(); err != nil {
		return nil, err
	}
	if s := tx.on.stmt(query); s != nil {
		return tx.tx.StmtContext(tx.ctx, s).QueryContext(tx.ctx, args...)
	}
	return tx.tx.QueryContext(tx.ctx, query, args...)
}

// exec carries out a write of which only the failure matters, at once or behind.
func (tx *Tx) exec(query string, args ...any) error {
	if tx.behind != nil {
		return tx.behind.put(late{query: query, args: args})
	}
	_, err := tx.now(query, args)
	return classify(err)
}

// execMade is exec with arguments that are made ready when it is their turn: made must
// rest on nothing that changes.
func (tx *Tx) execMade(query string, made func() []any) error {
	if tx.behind != nil {
		return tx.behind.put(late{query: query, made: made})
	}
	return tx.exec(query, made()...)
}

func (tx *Tx) insert(query string, args ...any) (int64, error) {
	r, err := tx.result(query, args)
	if err != nil {
		return 0, classify(err)
	}
	return r.LastInsertId()
}

// changed runs a statement and reports how many rows it changed.
func (tx *Tx) changed(query string, args ...any) (int64, error) {
	r, err := tx.result(query, args)
	if err != nil {
		return 0, classify(err)
	}
	return r.RowsAffected()
}

// must runs a statement that has to change a row; ErrNotFound where it does not,
// as with a row of another book.
func (tx *Tx) must(query string, args ...any) error {
	n, err := tx.changed(query, args...)
	if err == nil && n == 0 {
		return ErrNotFound
	}
	return err
}
