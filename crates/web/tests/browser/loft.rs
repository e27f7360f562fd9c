//! A loft served on a port of its own.

use std::sync::mpsc;
use std::time::Duration;

/// A loft that is up.
pub struct Loft {
    /// Its address, without the last slash.
    pub at: String,
    options: web::Options,
    _folder: Option<tempfile::TempDir>,
}

impl Loft {
    pub fn up() -> Loft {
        let folder = tempfile::tempdir().expect("a folder");
        let store = folder.path().join("loft.db").display().to_string();
        let options = web::Options { store, port: 0, ..web::Options::default() };
        Loft { at: served(&options), options, _folder: Some(folder) }
    }

    /// The same records served anew, as after a restart.
    pub fn again(&self) -> Loft {
        Loft { at: served(&self.options), options: self.options.clone(), _folder: None }
    }
}

fn served(options: &web::Options) -> String {
    let (said, heard) = mpsc::channel();
    let options = options.clone();
    std::thread::spawn(move || {
        web::serve(&options, |address| said.send(address.to_owned()).expect("somebody listens")).expect("served");
    });
    let address: String = heard.recv_timeout(Duration::from_secs(30)).expect("an address");
    address.trim_end_matches('/').to_owned()
}
