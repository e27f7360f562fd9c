//! What breaks: the server, the disk, the plug.

use crate::both::{Server, found_or_told, stamp, wait};
use store::{Error, Place, Store};

#[test]
fn a_server_that_was_gone_and_is_back_needs_nothing() {
    let Some(programs) = found_or_told() else { return };
    let mut server = Server::start(&programs);
    let place = Place::parse(&server.url());
    wait(async {
        let store = Store::open(&place).await.unwrap();
        store.set("k", "1", None, &stamp("Ada", 1)).await.unwrap();
        server.stop();
        let refused = store.set("k", "2", None, &stamp("Ada", 2)).await.unwrap_err();
        assert!(matches!(refused, Error::Unreachable { .. }), "{refused}");
        assert!(matches!(store.setting("k").await.unwrap_err(), Error::Unreachable { .. }));
        tokio::task::block_in_place(|| server.start_again());
        assert_eq!(store.setting("k").await.unwrap().unwrap().value, "1");
        assert_eq!(store.set("k", "3", None, &stamp("Ada", 3)).await.unwrap().revision, 2);
        store.close().await;
    });
}
