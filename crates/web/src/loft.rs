//! The loft's records as the pages ask for them.
//!
//! Thin over desk's records: rows of the store become what a page shows, a
//! name becomes a stamp with the time, and a save that found somebody else's
//! becomes both texts.

use crate::plans::Planned;
use crate::users::{Role, User};
use desk::records::rows::{
    Measured as MeasuredRow, Move, NewPhoto, OrderState, OrderText, PhotoKind, Piece, PieceState, ReelKind, ReelState,
    Role as RoleRow, Saved as SavedRow, Typed, UserFacts, UserState,
};
use desk::records::{Records, stamp};
use desk::{Measured, Problem, System, Text};
use std::collections::{BTreeMap, BTreeSet};

pub(crate) use desk::records::plans::PieceOf;
pub(crate) use desk::records::rows::{Mark, Refusal as Refused};

/// An order as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Order {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) text: String,
    pub(crate) revision: i64,
    pub(crate) at: String,
    pub(crate) who: String,
}

impl Order {
    fn of(row: desk::records::rows::Order) -> Order {
        Order { id: row.id, name: row.name, text: row.text, revision: row.revision, at: row.at, who: row.who }
    }
}

/// What came of a save.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Saved {
    /// It is the order now.
    Saved(Order),
    /// Somebody else had saved: theirs is the order, yours is laid aside.
    Changed { theirs: Order, yours: String },
}

/// A field, half typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Draft {
    pub(crate) field: String,
    pub(crate) value: String,
    pub(crate) based_on: Option<i64>,
    pub(crate) at: String,
}

/// A piece that was cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PieceKept {
    pub(crate) code: String,
    pub(crate) line: String,
    pub(crate) boat: String,
    pub(crate) state: String,
    pub(crate) reel: String,
    pub(crate) batch: String,
}

impl PieceKept {
    fn of(piece: Piece) -> PieceKept {
        PieceKept {
            code: piece.code,
            line: piece.line,
            boat: piece.boat,
            state: piece.state.word().replace('_', " "),
            reel: piece.reel.unwrap_or_default(),
            batch: piece.batch,
        }
    }
}

/// A reel as the rack shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Reel {
    pub(crate) id: String,
    pub(crate) rope: String,
    pub(crate) colour: String,
    pub(crate) batch: String,
    pub(crate) length: String,
    pub(crate) state: String,
}

/// A measurement that was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Taken {
    pub(crate) what: String,
    pub(crate) given: String,
    pub(crate) at: String,
    pub(crate) who: String,
}

/// A photo that was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Photo {
    pub(crate) id: String,
    pub(crate) at: String,
    pub(crate) who: String,
}

/// The records.
#[derive(Debug, Clone)]
pub(crate) struct Loft(Records);

impl Loft {
    pub(crate) async fn open(store: &str) -> Result<Loft, Problem> {
        Ok(Loft(Records::open(store).await?))
    }

    /// The records, for tasks of desk that work on them.
    pub(crate) const fn records(&self) -> &Records {
        &self.0
    }

    pub(crate) async fn close(&self) {
        self.0.close().await;
    }

    pub(crate) async fn orders(&self) -> Result<Vec<Order>, Problem> {
        let open = self.0.store().orders(OrderState::Open).await?;
        Ok(open.into_iter().map(Order::of).collect())
    }

    pub(crate) async fn order(&self, id: &str) -> Result<Order, Problem> {
        Ok(Order::of(self.0.store().order(id).await?))
    }

    pub(crate) async fn add_order(&self, id: &str, name: &str, text: &str, who: &str) -> Result<Order, Problem> {
        Ok(Order::of(self.0.store().add_order(OrderText { id, name, text }, &stamp(who)?).await?))
    }

    pub(crate) async fn save_order(
        &self,
        order: &Order,
        text: &str,
        based_on: i64,
        who: &str,
    ) -> Result<Saved, Problem> {
        let name =
            desk::boat(&Text::held("the order", text), None).map_or_else(|_| order.name.clone(), |boat| boat.boat);
        let new = OrderText { id: &order.id, name: &name, text };
        Ok(match self.0.store().save_order(new, based_on, &stamp(who)?).await? {
            SavedRow::Saved(order) => Saved::Saved(Order::of(order)),
            SavedRow::Changed { theirs, yours, .. } => Saved::Changed { theirs: Order::of(theirs), yours: yours.text },
        })
    }

    pub(crate) async fn drafts(&self, who: &str, page: &str) -> Result<Vec<Draft>, Problem> {
        let drafts = self.0.store().drafts(who, page).await?;
        let draft = |row: desk::records::rows::Draft| Draft {
            field: row.field,
            value: row.value,
            based_on: row.based_on,
            at: row.at,
        };
        Ok(drafts.into_iter().map(draft).collect())
    }

    pub(crate) async fn keep_draft(&self, who: &str, page: &str, draft: &Draft) -> Result<(), Problem> {
        let typed = Typed { page, field: &draft.field, value: &draft.value, based_on: draft.based_on };
        Ok(self.0.store().keep_drafts(&[typed], &stamp(who)?).await?)
    }

    pub(crate) async fn drop_drafts(&self, who: &str, page: &str) -> Result<(), Problem> {
        Ok(self.0.store().drop_drafts(who, page).await?)
    }

    /// A setting's text.
    pub(crate) async fn setting(&self, key: &str) -> Result<Option<String>, Problem> {
        let setting = self.0.store().setting(key).await?;
        Ok(setting.and_then(|setting| serde_json::from_str(&setting.value).ok()))
    }

    /// The rope list and its revision; 0 where there is none yet.
    pub(crate) async fn rope_list(&self) -> Result<(String, i64), Problem> {
        let setting = self.0.store().setting("rope-list").await?;
        Ok(setting.map_or_else(Default::default, |setting| {
            (serde_json::from_str(&setting.value).unwrap_or_default(), setting.revision)
        }))
    }

    /// Sets the rope list, if nobody has since the revision it was made from.
    pub(crate) async fn set_rope_list(&self, text: &str, based_on: i64, who: &str) -> Result<(), Problem> {
        let json = serde_json::Value::from(text).to_string();
        self.0.store().set("rope-list", &json, Some(based_on), &stamp(who)?).await?;
        Ok(())
    }

    pub(crate) async fn set(&self, key: &str, value: &str, who: &str) -> Result<(), Problem> {
        let json = serde_json::Value::from(value).to_string();
        self.0.store().set(key, &json, None, &stamp(who)?).await?;
        Ok(())
    }

    /// The demo order with its rope list and rack.
    pub(crate) async fn load_demo(&self, who: &str) -> Result<(), Problem> {
        let boat = desk::boat(&Text::held("demo order", desk::DEMO.order), None)?;
        self.add_order(&boat.order, &boat.boat, desk::DEMO.order, who).await?;
        self.set("rope-list", desk::DEMO.ropes, who).await?;
        self.add_reels(desk::DEMO.rack, who).await
    }

    pub(crate) async fn users(&self) -> Result<Vec<User>, Problem> {
        Ok(self.0.store().users().await?.into_iter().filter_map(user).collect())
    }

    pub(crate) async fn user(&self, name: &str) -> Result<Option<User>, Problem> {
        Ok(self.0.store().user(name.trim()).await?.and_then(user))
    }

    pub(crate) async fn put_user(&self, user: &User, who: &str) -> Result<(), Problem> {
        let role = match user.role {
            Role::Owner => RoleRow::Owner,
            Role::Rigger => RoleRow::Rigger,
            Role::Reader => RoleRow::Reader,
        };
        let facts = UserFacts { name: &user.name, role, state: UserState::Active, secret: Some(&user.hash) };
        self.0.store().set_user(facts, &stamp(who)?).await?;
        Ok(())
    }

    /// Closes a user, who then signs in no more.
    pub(crate) async fn close_user(&self, name: &str, who: &str) -> Result<(), Problem> {
        let Some(user) = self.0.store().user(name).await? else {
            return Err(crate::refusal::problem(
                "missing",
                format!("there is no user {name:?}"),
                "choose one of the list",
            ));
        };
        let facts = UserFacts { name: &user.name, role: user.role, state: UserState::Closed, secret: None };
        self.0.store().set_user(facts, &stamp(who)?).await?;
        Ok(())
    }

    /// Writes a refusal down.
    pub(crate) async fn note_refusal(&self, what: &str, why: &str, from: &str, who: &str) -> Result<(), Problem> {
        self.0.store().note_refusal(what, why, from, &stamp(who)?).await?;
        Ok(())
    }

    /// The last refusals, the newest first.
    pub(crate) async fn refusals(&self, most: u32) -> Result<Vec<Refused>, Problem> {
        Ok(self.0.store().refusals(most).await?)
    }

    pub(crate) async fn pieces_of(&self, order: &str) -> Result<Vec<PieceKept>, Problem> {
        Ok(self.0.store().pieces_of(order).await?.into_iter().map(PieceKept::of).collect())
    }

    /// Pieces that are cut and not made yet, at most `most`.
    pub(crate) async fn at_the_bench(&self, most: u32) -> Result<Vec<PieceKept>, Problem> {
        Ok(self.0.store().pieces(PieceState::Cut, "", most).await?.into_iter().map(PieceKept::of).collect())
    }

    pub(crate) async fn piece(&self, code: &str) -> Result<Option<PieceKept>, Problem> {
        match self.0.store().piece(code).await.map_err(Problem::from) {
            Ok(piece) => Ok(Some(PieceKept::of(piece))),
            Err(why) if why.code == "missing" => Ok(None),
            Err(why) => Err(why),
        }
    }

    /// The steps that are ticked: the last line of each step counts.
    pub(crate) async fn ticks(&self, code: &str) -> Result<BTreeSet<String>, Problem> {
        let mut ticked = BTreeSet::new();
        for tick in self.0.store().ticks(code).await? {
            match tick.mark {
                Mark::Ticked => ticked.insert(tick.step),
                Mark::Unticked => ticked.remove(&tick.step),
            };
        }
        Ok(ticked)
    }

    pub(crate) async fn tick(&self, code: &str, step: &str, mark: Mark, who: &str) -> Result<(), Problem> {
        self.0.store().tick(code, step, mark, &stamp(who)?).await?;
        Ok(())
    }

    pub(crate) async fn set_batch(&self, code: &str, batch: &str, who: &str) -> Result<(), Problem> {
        self.0.store().set_batch(code, batch, &stamp(who)?).await?;
        Ok(())
    }

    pub(crate) async fn measured(&self, code: &str) -> Result<Vec<Taken>, Problem> {
        let rows = self.0.store().as_made(code).await?.into_iter();
        Ok(rows.map(|row| Taken { what: row.what, given: row.given, at: row.at, who: row.who }).collect())
    }

    pub(crate) async fn measure(&self, code: &str, measured: &Measured, given: &str, who: &str) -> Result<(), Problem> {
        let row = MeasuredRow {
            piece: code.to_owned(),
            step: "measure".to_owned(),
            what: measured.what.clone(),
            given: given.to_owned(),
            millionths: measured.micrometres(),
            unit: "m".to_owned(),
            wanted_millionths: Some(measured.wanted_micrometres()),
            verdict: if measured.within { "within" } else { "out" }.to_owned(),
            note: measured.verdict.clone(),
        };
        self.0.store().measure(&row, &stamp(who)?).await?;
        Ok(())
    }

    pub(crate) async fn photos(&self, code: &str) -> Result<Vec<Photo>, Problem> {
        let rows = self.0.store().photos(code).await?.into_iter();
        Ok(rows.map(|row| Photo { id: row.id, at: row.at, who: row.who }).collect())
    }

    pub(crate) async fn add_photo(&self, code: &str, step: &str, bytes: Vec<u8>, who: &str) -> Result<(), Problem> {
        let mut random = [0u8; 12];
        getrandom::fill(&mut random).map_err(|why| Problem::disk(&why.to_string()))?;
        let id = random.iter().map(|byte| format!("{byte:02x}")).collect();
        let photo = NewPhoto { id, piece: code.to_owned(), step: step.to_owned(), kind: PhotoKind::Jpeg, bytes };
        self.0.store().add_photo(photo, &stamp(who)?).await?;
        Ok(())
    }

    pub(crate) async fn photo_bytes(&self, id: &str) -> Result<Vec<u8>, Problem> {
        Ok(self.0.store().photo(id).await?.bytes)
    }

    pub(crate) async fn made(&self, code: &str, who: &str) -> Result<(), Problem> {
        let step = Move { to: PieceState::Made, on: &crate::calendar::today(), next_due: None };
        self.0.store().move_piece(code, step, &stamp(who)?).await?;
        Ok(())
    }

    /// The free reels as a rack file.
    pub(crate) async fn rack(&self) -> Result<String, Problem> {
        let text = self.0.rack_file().await?;
        Ok(if text.lines().count() > 1 { text } else { String::new() })
    }

    /// Every reel that is still there.
    pub(crate) async fn reels(&self, system: System) -> Result<Vec<Reel>, Problem> {
        let reels = self.0.store().rack().await?.into_iter().map(|row| Reel {
            state: match (row.state, row.kind) {
                (ReelState::Reserved, _) => "kept for a plan".to_owned(),
                (ReelState::Free, ReelKind::Remnant) => "remnant".to_owned(),
                (ReelState::Free, _) => "reel".to_owned(),
                (other, _) => other.word().replace('_', " "),
            },
            id: row.id,
            rope: row.rope,
            colour: row.colour,
            batch: row.batch,
            length: desk::show_millimetres(row.length_mm, system),
        });
        Ok(reels.collect())
    }

    pub(crate) async fn add_reels(&self, text: &str, who: &str) -> Result<(), Problem> {
        self.0.add_rack(&Text::held("reels", text), &stamp(who)?).await?;
        Ok(())
    }

    /// Cuts a plan: the rack is updated, once, and its pieces get their records.
    pub(crate) async fn confirm(
        &self,
        plan: &Planned,
        pieces: &BTreeMap<String, PieceOf>,
        who: &str,
    ) -> Result<(), Problem> {
        let stamp = stamp(who)?;
        match self.0.keep_plan(&plan.id, &plan.cut.answer, pieces, &stamp).await {
            // Kept before, when the confirming did not get through.
            Err(why) if why.code == "taken" => {}
            kept => drop(kept?),
        }
        self.0.confirm_plan(&plan.id, pieces, &stamp).await.map(drop)
    }
}

/// A user who may sign in.
fn user(row: desk::records::rows::User) -> Option<User> {
    let role = match row.role {
        RoleRow::Owner => Role::Owner,
        RoleRow::Rigger => Role::Rigger,
        RoleRow::Reader => Role::Reader,
    };
    (row.state == UserState::Active).then_some(User { name: row.name, role, hash: row.secret, since: row.at })
}
