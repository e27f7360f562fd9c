//! Settings, orders and drafts: two people at once, and nothing lost.

use crate::both::{on_both, stamp};
use store::{Error, OrderState, OrderText, Saved, Typed};

const fn text<'a>(id: &'a str, name: &'a str, text: &'a str) -> OrderText<'a> {
    OrderText { id, name, text }
}

#[test]
fn a_setting_is_set_over_and_remembers() {
    on_both(async |store| {
        assert_eq!(store.setting("paper").await.unwrap(), None);
        assert_eq!(store.set("paper", "\"a4\"", Some(0), &stamp("Ada", 1)).await.unwrap().revision, 1);
        assert_eq!(store.set("paper", "\"letter\"", None, &stamp("Bea", 2)).await.unwrap().revision, 2);
        let refused = store.set("paper", "\"a5\"", Some(1), &stamp("Ada", 3)).await.unwrap_err();
        assert_eq!(
            refused.to_string(),
            "setting \"paper\" was changed by Bea at 2026-11-25T00:00:02Z: you worked from revision 1, it is now revision 2"
        );
        let changes = store.history_of("setting", "paper").await.unwrap();
        let told: Vec<(&str, &str)> = changes.iter().map(|one| (one.action.word(), one.who.as_str())).collect();
        assert_eq!(told, [("made", "Ada"), ("changed", "Bea")]);
        assert!(changes[1].before.as_deref().unwrap().contains("a4"));
        assert!(changes[1].after.as_deref().unwrap().contains("letter"));
    });
}

#[test]
fn two_people_save_one_order_and_neither_loses() {
    on_both(async |store| {
        let first = store.add_order(text("sloop", "Sloop", "a = 1"), &stamp("Ada", 1)).await.unwrap();
        assert_eq!((first.revision, first.state), (1, OrderState::Open));
        let saved = store.save_order(text("sloop", "Sloop", "a = 2"), 1, &stamp("Bea", 2)).await.unwrap();
        let Saved::Saved(second) = saved else { panic!("{saved:?}") };
        assert_eq!((second.revision, second.made_by.as_str(), second.who.as_str()), (2, "Ada", "Bea"));

        let late = store.save_order(text("sloop", "Sloop", "a = 3"), 1, &stamp("Ada", 3)).await.unwrap();
        let Saved::Changed { theirs, yours, from } = late else { panic!("{late:?}") };
        assert_eq!(
            (theirs.text.as_str(), yours.text.as_str(), from.unwrap().text.as_str()),
            ("a = 2", "a = 3", "a = 1")
        );
        assert_eq!(store.order("sloop").await.unwrap().text, "a = 2");
        assert_eq!(store.order_asides("sloop").await.unwrap(), std::slice::from_ref(&yours));
        let settled = store.strike_out("text laid aside", &yours.seq.to_string(), "taken over", &stamp("Ada", 4)).await;
        assert_eq!(settled.unwrap().reason, "taken over");
        assert_eq!(store.order_asides("sloop").await.unwrap(), []);

        let texts: Vec<String> =
            store.order_versions("sloop").await.unwrap().into_iter().map(|version| version.text).collect();
        assert_eq!(texts, ["a = 1", "a = 2"]);
    });
}

#[test]
fn of_many_saves_from_one_revision_one_is_saved_and_all_are_kept() {
    on_both(async |store| {
        store.add_order(text("sloop", "Sloop", "a = 0"), &stamp("Ada", 1)).await.unwrap();
        let mut tasks = Vec::new();
        for number in 1..=12 {
            let store = store.clone();
            tasks.push(tokio::spawn(async move {
                let new = format!("a = {number}");
                store.save_order(text("sloop", "Sloop", &new), 1, &stamp("Bea", number)).await.unwrap()
            }));
        }
        let mut saved = 0;
        for task in tasks {
            saved += u32::from(matches!(task.await.unwrap(), Saved::Saved(_)));
        }
        assert_eq!(saved, 1);
        let mut texts: Vec<String> =
            store.order_asides("sloop").await.unwrap().into_iter().map(|aside| aside.text).collect();
        texts.extend(store.order_versions("sloop").await.unwrap().into_iter().map(|version| version.text));
        texts.sort();
        let mut wanted: Vec<String> = (0..=12).map(|number| format!("a = {number}")).collect();
        wanted.sort();
        assert_eq!(texts, wanted);
    });
}

#[test]
fn orders_are_listed_by_state_and_names_are_taken_once() {
    on_both(async |store| {
        store.add_order(text("b", "Ketch", ""), &stamp("Ada", 1)).await.unwrap();
        store.add_order(text("a", "Sloop", ""), &stamp("Ada", 2)).await.unwrap();
        let refused = store.add_order(text("a", "Yawl", ""), &stamp("Ada", 3)).await.unwrap_err();
        assert_eq!(refused.to_string(), "order \"a\" is there already");
        store.set_order_state("b", OrderState::Done, &stamp("Ada", 4)).await.unwrap();
        let names = async |state| -> Vec<String> {
            store.orders(state).await.unwrap().into_iter().map(|order| order.name).collect()
        };
        assert_eq!(names(OrderState::Open).await, ["Sloop"]);
        assert_eq!(names(OrderState::Done).await, ["Ketch"]);
        assert!(matches!(store.order("c").await.unwrap_err(), Error::Missing { .. }));
    });
}

#[test]
fn drafts_are_each_persons_own() {
    on_both(async |store| {
        let typed = |value| Typed { page: "/orders/sloop", field: "boat.mass", value, based_on: Some(3) };
        store.keep_drafts(&[typed("6 t")], &stamp("Ada", 1)).await.unwrap();
        store.keep_drafts(&[typed("6.2 t")], &stamp("Ada", 2)).await.unwrap();
        store.keep_drafts(&[typed("7 t")], &stamp("Bea", 3)).await.unwrap();
        let hers = store.drafts("Ada", "/orders/sloop").await.unwrap();
        assert_eq!((hers.len(), hers[0].value.as_str(), hers[0].based_on), (1, "6.2 t", Some(3)));
        assert_eq!(store.drafts_of_all("/orders/sloop").await.unwrap().len(), 2);
        store.drop_drafts("Ada", "/orders/sloop").await.unwrap();
        assert_eq!(store.drafts_of_all("/orders/sloop").await.unwrap()[0].who, "Bea");
    });
}
