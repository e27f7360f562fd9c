//! Pages on the bench's own machine: routes, pages, error envelope.
//!
//! Every page is HTML from the server and reads without JavaScript; two small
//! scripts redraw the splice bench and keep what is half typed. Answers come
//! from `desk` alone, so that a page says what the terminal says. Nothing is
//! fetched from anywhere else: type, style and scripts are in the program.
//!
//! [`serve`] opens a port; [`router`] is the same without one, for tests.
//! Refused where it enters: a host that is not ours, a form from another
//! site, a body that is too large, a caller without the right (`guard`).

mod answers;
mod api;
mod app;
mod assets;
mod bodies;
mod calendar;
mod cookies;
mod guard;
mod loft;
mod openapi;
mod pace;
mod pages;
mod photo;
mod plans;
mod refusal;
mod routes;
mod serve;
mod sessions;
mod users;
mod view;

pub use app::App;
pub use routes::router;
pub use serve::{Options, add_user, open, serve};
pub use sessions::SessionLimits;
pub use users::Role;
