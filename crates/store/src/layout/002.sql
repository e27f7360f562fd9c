CREATE TABLE tests (
    number TEXT NOT NULL PRIMARY KEY, kind TEXT NOT NULL CHECK (kind IN ('proof', 'break')),
    piece TEXT REFERENCES pieces (code), sample TEXT NOT NULL,
    rope TEXT NOT NULL, end_kind TEXT NOT NULL, splicer TEXT NOT NULL, worn TEXT NOT NULL CHECK (worn IN ('new', 'used')),
    day TEXT NOT NULL, wanted_mn BIGINT, load_mn BIGINT NOT NULL CHECK (load_mn >= 0),
    estimate_mn BIGINT, hold_ms BIGINT, cycles BIGINT, extension_um BIGINT, rate TEXT NOT NULL,
    result TEXT NOT NULL CHECK (result IN ('held', 'broke', 'stopped')),
    broke_at TEXT CHECK (broke_at IN ('splice', 'throat', 'eye', 'clear', 'grip', 'elsewhere')),
    machine TEXT NOT NULL, detail TEXT NOT NULL, note TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL,
    CHECK ((result = 'broke') = (broke_at IS NOT NULL))
);
CREATE INDEX tests_piece ON tests (piece);
CREATE INDEX tests_sort ON tests (rope, end_kind, kind);
CREATE TABLE load_curves (
    test TEXT NOT NULL PRIMARY KEY REFERENCES tests (number),
    points BIGINT NOT NULL, text TEXT NOT NULL, sha256 TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE TABLE inspections (
    seq SEQUENCE, piece TEXT NOT NULL REFERENCES pieces (code), day TEXT NOT NULL, form TEXT NOT NULL,
    findings TEXT NOT NULL, verdict TEXT NOT NULL CHECK (verdict IN ('keep', 'watch', 'withdraw', 'retire')),
    used TEXT NOT NULL, due_before TEXT, due_after TEXT, reason TEXT NOT NULL, note TEXT NOT NULL,
    at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX inspections_piece ON inspections (piece);
CREATE TABLE life (
    seq SEQUENCE, piece TEXT NOT NULL REFERENCES pieces (code),
    event TEXT NOT NULL CHECK (event IN ('put_in_service', 'hours', 'turned', 'shortened', 're_spliced', 'washed', 'retired', 'broken', 'noted')),
    day TEXT NOT NULL, amount_millionths BIGINT, unit TEXT NOT NULL, reason TEXT NOT NULL, detail TEXT NOT NULL,
    at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX life_piece ON life (piece);
CREATE TABLE minutes (
    seq SEQUENCE, piece TEXT REFERENCES pieces (code), end_kind TEXT NOT NULL, rope TEXT NOT NULL,
    rigger TEXT NOT NULL, seconds BIGINT NOT NULL CHECK (seconds > 0), day TEXT NOT NULL, note TEXT NOT NULL,
    at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX minutes_end ON minutes (end_kind, rope);
CREATE TABLE readings (
    seq SEQUENCE, what TEXT NOT NULL, rope TEXT NOT NULL, piece TEXT REFERENCES pieces (code),
    given TEXT NOT NULL, millionths BIGINT NOT NULL, unit TEXT NOT NULL, detail TEXT NOT NULL, day TEXT NOT NULL,
    at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX readings_what ON readings (what, rope);
CREATE TABLE struck (
    what TEXT NOT NULL, id TEXT NOT NULL, reason TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL,
    PRIMARY KEY (what, id)
);
CREATE TABLE prices (
    id TEXT NOT NULL PRIMARY KEY, kind TEXT NOT NULL CHECK (kind IN ('rope', 'hardware', 'twine', 'labour', 'other')),
    name TEXT NOT NULL, per TEXT NOT NULL, amount TEXT NOT NULL, currency TEXT NOT NULL, note TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX prices_name ON prices (kind, name);
CREATE TABLE quotes (
    number TEXT NOT NULL PRIMARY KEY, order_id TEXT REFERENCES orders (id), order_revision BIGINT,
    state TEXT NOT NULL CHECK (state IN ('draft', 'sent', 'accepted', 'declined', 'withdrawn')),
    currency TEXT NOT NULL, total TEXT NOT NULL, answer TEXT NOT NULL, day TEXT NOT NULL, valid_until TEXT, note TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX quotes_order ON quotes (order_id);
CREATE TABLE users (
    name TEXT NOT NULL PRIMARY KEY, role TEXT NOT NULL CHECK (role IN ('owner', 'rigger', 'reader')),
    state TEXT NOT NULL CHECK (state IN ('active', 'closed')), secret TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE TABLE sessions (
    id TEXT NOT NULL PRIMARY KEY, user_name TEXT NOT NULL REFERENCES users (name),
    token TEXT NOT NULL, begun_at TEXT NOT NULL, seen_at TEXT NOT NULL, ends_at TEXT NOT NULL, address TEXT NOT NULL
);
CREATE INDEX sessions_user ON sessions (user_name);
CREATE TABLE refusals (
    seq SEQUENCE, what TEXT NOT NULL, why TEXT NOT NULL, address TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX refusals_from ON refusals (address, seq);
APPEND ONLY tests;
APPEND ONLY load_curves;
APPEND ONLY inspections;
APPEND ONLY life;
APPEND ONLY minutes;
APPEND ONLY readings;
APPEND ONLY struck;
APPEND ONLY refusals;
ALTER TABLE plan_reels ADD COLUMN seen_flaws TEXT NOT NULL DEFAULT '[]';
ALTER TABLE plan_reels ADD COLUMN left_flaws TEXT NOT NULL DEFAULT '[]';
CREATE TABLE plan_remnants (
    plan TEXT NOT NULL, reel TEXT NOT NULL, id TEXT NOT NULL, length_mm BIGINT NOT NULL CHECK (length_mm > 0),
    PRIMARY KEY (plan, id), FOREIGN KEY (plan, reel) REFERENCES plan_reels (plan, reel)
);
ALTER TABLE reels ADD COLUMN kind TEXT NOT NULL DEFAULT 'whole' CHECK (kind IN ('whole', 'remnant'));
ALTER TABLE plan_reels ADD COLUMN seen_kind TEXT NOT NULL DEFAULT 'whole' CHECK (seen_kind IN ('whole', 'remnant'));
CREATE INDEX pieces_state ON pieces (state, code);
