//! A loft of its own for each test, and a caller of its routes.

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use http_body_util::BodyExt;
use tower::ServiceExt;

/// A loft in a folder of its own.
pub struct Loft {
    router: Router,
    pub host: String,
    pub cookie: Option<String>,
    pub folder: tempfile::TempDir,
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub bytes: Vec<u8>,
}

impl Answer {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map(|value| value.to_str().unwrap()).unwrap_or_default()
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.bytes).unwrap()
    }

    /// The page of a status, or the test ends with what came instead.
    pub fn expect(self, status: u16) -> Answer {
        assert_eq!(self.status.as_u16(), status, "{}", self.text());
        self
    }

    pub fn has(&self, words: &str) -> &Answer {
        assert!(self.text().contains(words), "{words:?} is not in {}", self.text());
        self
    }
}

fn options(folder: &tempfile::TempDir) -> web::Options {
    let store = folder.path().join("loft.db").display().to_string();
    web::Options { store, port: 0, ..web::Options::default() }
}

impl Loft {
    /// Where its records are.
    pub fn store(&self) -> String {
        self.folder.path().join("loft.db").display().to_string()
    }

    /// An empty loft on this machine alone.
    pub async fn empty() -> Loft {
        let folder = tempfile::tempdir().unwrap();
        let app = web::open(&options(&folder)).await.unwrap();
        Loft { router: web::router(app), host: "localhost:4310".to_owned(), cookie: None, folder }
    }

    /// One with the demo order.
    pub async fn demo() -> Loft {
        let loft = Loft::empty().await;
        loft.post("/begin", "with=demo").await.expect(303);
        loft
    }

    /// One whose records are in another place.
    pub async fn at(store: &str) -> Loft {
        let folder = tempfile::tempdir().unwrap();
        let app = web::open(&web::Options { store: store.to_owned(), ..options(&folder) }).await.unwrap();
        Loft { router: web::router(app), host: "localhost:4310".to_owned(), cookie: None, folder }
    }

    /// One that is shared, with a user of each role.
    pub async fn shared() -> Loft {
        Loft::shared_with(web::SessionLimits::default()).await
    }

    /// The same, with sessions of another length.
    pub async fn shared_with(sessions: web::SessionLimits) -> Loft {
        let folder = tempfile::tempdir().unwrap();
        let options = web::Options {
            listen: [0, 0, 0, 0].into(),
            hosts: vec!["loft.example".to_owned()],
            sessions,
            ..options(&folder)
        };
        let store = options.store.clone();
        let users = [("Ada", web::Role::Owner), ("Ben", web::Role::Rigger), ("Cleo", web::Role::Reader)];
        tokio::task::spawn_blocking(move || {
            for (name, role) in users {
                web::add_user(&store, name, role, &format!("{name} ties knots")).unwrap();
            }
        })
        .await
        .unwrap();
        let app = web::open(&options).await.unwrap();
        Loft { router: web::router(app), host: "loft.example:4310".to_owned(), cookie: None, folder }
    }

    /// Signs in and keeps the session.
    pub async fn sign_in(&mut self, name: &str) {
        let form = format!("name={name}&password={name}+ties+knots&to=%2Forders");
        let answer = self.post("/sign-in", &form).await.expect(303);
        assert_eq!(answer.header("location"), "/orders");
        let cookie = answer.header("set-cookie");
        assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
        self.cookie = Some(cookie.split(';').next().unwrap().to_owned());
    }

    pub async fn get(&self, path: &str) -> Answer {
        self.ask(Method::GET, path, &[], Vec::new()).await
    }

    pub async fn post(&self, path: &str, form: &str) -> Answer {
        let origin = format!("http://{}", self.host);
        let headers = [("content-type", "application/x-www-form-urlencoded"), ("origin", origin.as_str())];
        self.ask(Method::POST, path, &headers, form.as_bytes().to_vec()).await
    }

    pub async fn json(&self, method: Method, path: &str, body: &serde_json::Value) -> Answer {
        self.ask(method, path, &[("content-type", "application/json")], serde_json::to_vec(body).unwrap()).await
    }

    pub async fn ask(&self, method: Method, path: &str, headers: &[(&str, &str)], body: Vec<u8>) -> Answer {
        let mut request = Request::builder().method(method).uri(path);
        if !headers.iter().any(|(name, _)| *name == "host") {
            request = request.header(header::HOST, &self.host);
        }
        if let Some(cookie) = &self.cookie {
            request = request.header(header::COOKIE, cookie);
        }
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let response = self.router.clone().oneshot(request.body(Body::from(body)).unwrap()).await.unwrap();
        let (status, headers) = (response.status(), response.headers().clone());
        let bytes = response.into_body().collect().await.unwrap().to_bytes().to_vec();
        Answer { status, headers, bytes }
    }
}
