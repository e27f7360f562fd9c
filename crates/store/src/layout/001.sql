CREATE TABLE settings (
    key TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE TABLE orders (
    id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('open', 'done', 'put_away')), text TEXT NOT NULL,
    revision BIGINT NOT NULL, made_at TEXT NOT NULL, made_by TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE TABLE order_versions (
    order_id TEXT NOT NULL REFERENCES orders (id), revision BIGINT NOT NULL,
    name TEXT NOT NULL, text TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL,
    PRIMARY KEY (order_id, revision)
);
CREATE TABLE order_asides (
    seq SEQUENCE, order_id TEXT NOT NULL REFERENCES orders (id), based_on BIGINT NOT NULL, found BIGINT NOT NULL,
    name TEXT NOT NULL, text TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX order_asides_order ON order_asides (order_id);
CREATE TABLE drafts (
    who TEXT NOT NULL, page TEXT NOT NULL, field TEXT NOT NULL, value TEXT NOT NULL,
    based_on BIGINT, at TEXT NOT NULL,
    PRIMARY KEY (who, page, field)
);
CREATE TABLE plans (
    id TEXT NOT NULL PRIMARY KEY,
    state TEXT NOT NULL CHECK (state IN ('made', 'reserved', 'confirmed', 'taken_back', 'dropped')),
    rack TEXT NOT NULL, answer TEXT NOT NULL, note TEXT NOT NULL,
    revision BIGINT NOT NULL, made_at TEXT NOT NULL, made_by TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE TABLE reels (
    id TEXT NOT NULL PRIMARY KEY, rope TEXT NOT NULL, colour TEXT NOT NULL, batch TEXT NOT NULL,
    length_mm BIGINT NOT NULL CHECK (length_mm >= 0),
    state TEXT NOT NULL CHECK (state IN ('free', 'reserved', 'used_up', 'gone')),
    plan TEXT REFERENCES plans (id), flaws TEXT NOT NULL, price TEXT, place TEXT NOT NULL, note TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL,
    CHECK ((state = 'reserved') = (plan IS NOT NULL))
);
CREATE INDEX reels_state ON reels (state, rope);
CREATE TABLE plan_reels (
    plan TEXT NOT NULL REFERENCES plans (id), reel TEXT NOT NULL REFERENCES reels (id),
    seen_mm BIGINT NOT NULL, left_mm BIGINT NOT NULL CHECK (left_mm >= 0),
    left_as TEXT NOT NULL CHECK (left_as IN ('remnant', 'spoiled')),
    PRIMARY KEY (plan, reel)
);
CREATE INDEX plan_reels_reel ON plan_reels (reel);
CREATE TABLE pieces (
    code TEXT NOT NULL PRIMARY KEY, order_id TEXT REFERENCES orders (id), boat TEXT NOT NULL, line TEXT NOT NULL,
    rope TEXT NOT NULL, colour TEXT NOT NULL, batch TEXT NOT NULL,
    reel TEXT REFERENCES reels (id), plan TEXT REFERENCES plans (id),
    cut_mm BIGINT NOT NULL CHECK (cut_mm > 0), purpose TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('cut', 'made', 'in_service', 'retired', 'broken', 'taken_back')),
    card TEXT NOT NULL, made_on TEXT, in_service_on TEXT, next_due TEXT, retired_on TEXT, note TEXT NOT NULL,
    revision BIGINT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX pieces_due ON pieces (state, next_due, code);
CREATE INDEX pieces_order ON pieces (order_id, line);
CREATE INDEX pieces_plan ON pieces (plan);
CREATE INDEX pieces_rope ON pieces (rope, state);
CREATE TABLE cuts (
    plan TEXT NOT NULL, reel TEXT NOT NULL, position BIGINT NOT NULL,
    length_mm BIGINT NOT NULL CHECK (length_mm > 0), loss_mm BIGINT NOT NULL CHECK (loss_mm >= 0),
    piece TEXT NOT NULL, order_id TEXT, line TEXT NOT NULL,
    PRIMARY KEY (plan, reel, position), FOREIGN KEY (plan, reel) REFERENCES plan_reels (plan, reel)
);
CREATE INDEX cuts_piece ON cuts (piece);
CREATE TABLE ticks (
    seq SEQUENCE, piece TEXT NOT NULL REFERENCES pieces (code), step TEXT NOT NULL,
    mark TEXT NOT NULL CHECK (mark IN ('ticked', 'unticked')), at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX ticks_piece ON ticks (piece);
CREATE TABLE as_made (
    seq SEQUENCE, piece TEXT NOT NULL REFERENCES pieces (code), step TEXT NOT NULL, what TEXT NOT NULL,
    given TEXT NOT NULL, millionths BIGINT NOT NULL, unit TEXT NOT NULL,
    wanted_millionths BIGINT, verdict TEXT NOT NULL, note TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX as_made_piece ON as_made (piece);
CREATE INDEX as_made_what ON as_made (what);
CREATE TABLE photos (
    id TEXT NOT NULL PRIMARY KEY, piece TEXT NOT NULL REFERENCES pieces (code), step TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('image/jpeg', 'image/png', 'image/webp')),
    bytes BYTES NOT NULL, sha256 TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX photos_piece ON photos (piece);
CREATE TABLE history (
    seq SEQUENCE, what TEXT NOT NULL, id TEXT NOT NULL,
    action TEXT NOT NULL CHECK (action IN ('made', 'changed', 'removed')),
    before TEXT, after TEXT, at TEXT NOT NULL, who TEXT NOT NULL
);
CREATE INDEX history_of ON history (what, id);
APPEND ONLY order_versions;
APPEND ONLY order_asides;
APPEND ONLY ticks;
APPEND ONLY as_made;
APPEND ONLY history;
