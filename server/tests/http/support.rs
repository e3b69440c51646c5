//! A house with a running server, and phones that talk to it with a real client.

use std::net::SocketAddr;

use reqwest::header::HeaderValue;
use reqwest::{Client, Method, RequestBuilder, StatusCode};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::value::RawValue;
use server::config::{Config, DataConfig};
use server::store::{Store, open_existing};
use server::{clock, join, random, serve};
use shared_types::entry::{DeviceSeq, Digest, Entry, Seq};
use shared_types::hlc::Hlc;
use shared_types::ids::{DeviceId, EpochId, PersonId};
use shared_types::units::Millis;
use shared_types::wire::{
    Content, EnrolRequest, Enrolled, ExchangeReply, ExchangeRequest, Refusal, RefusalCode, Role,
    VERSION,
};
use tokio::net::TcpListener;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;

/// A server on a port of its own.
pub struct House {
    pub address: SocketAddr,
    pub config: Config,
    pub store: Store,
    client: Client,
    stop: oneshot::Sender<()>,
    served: JoinHandle<()>,
    dir: tempfile::TempDir,
}

impl House {
    pub async fn new() -> Self {
        Self::with(Config::default()).await
    }

    /// A new house; the folder in `config` is replaced by one of its own.
    pub async fn with(config: Config) -> Self {
        Self::open(config, tempfile::tempdir().unwrap()).await
    }

    async fn open(mut config: Config, dir: tempfile::TempDir) -> Self {
        config.data = DataConfig { dir: dir.path().to_owned(), ..config.data };
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let store = serve::open(&config).unwrap();
        let (stop, stopped) = oneshot::channel::<()>();
        let shutdown = async {
            // A house dropped by a failing test stops as well.
            let _ = stopped.await;
        };
        let serving = serve::serve_store(config.clone(), store.clone(), listener, shutdown);
        let served = tokio::spawn(serving);
        Self { address, config, store, client: Client::new(), stop, served, dir }
    }

    /// Stops the server and waits until it has.
    pub async fn stop(self) -> (Config, tempfile::TempDir) {
        self.stop.send(()).unwrap();
        self.served.await.unwrap();
        (self.config, self.dir)
    }

    /// Stops the server and starts another on the same data.
    pub async fn restart(self) -> Self {
        let (config, dir) = self.stop().await;
        Self::open(config, dir).await
    }

    pub fn request(&self, method: Method, path: &str) -> RequestBuilder {
        self.client.request(method, format!("http://{}{path}", self.address))
    }

    /// A code made beside the running server, as `lugbook code` does.
    pub fn code(&self, role: Role) -> String {
        let unused = EpochId::new(Millis(0), [0; 10]);
        let conn = open_existing(&self.config.data, unused).unwrap();
        join::make_code(&conn, role, 1, random::bytes(), clock::now()).unwrap().code
    }

    pub async fn enrol(&self, device: DeviceId, code: &str) -> Result<Enrolled, Refused> {
        let request = EnrolRequest {
            v: VERSION,
            code: code.to_owned(),
            name: "Ida".into(),
            device,
            person: PersonId::new(Millis(0), [1; 10]),
        };
        answer(self.request(Method::POST, "/api/v1/enrol").json(&request)).await
    }

    /// A phone that joined. The first is the owner's.
    pub async fn phone(&self, n: u8) -> Phone {
        self.phone_as(n, Role::Helper).await
    }

    pub async fn phone_as(&self, n: u8, role: Role) -> Phone {
        let device = DeviceId::new(Millis(0), [n; 10]);
        let enrolled = self.enrol(device, &self.code(role)).await.unwrap();
        Phone::of(enrolled)
    }
}

/// A phone: its token and how far it has read.
#[derive(Clone, Debug)]
pub struct Phone {
    pub device: DeviceId,
    pub token: String,
    pub role: Role,
    pub epoch: Option<EpochId>,
    pub cursor: Seq,
    pub digest: Digest,
    pub read: Vec<Content>,
    pub round_trips: usize,
}

impl Phone {
    pub fn of(enrolled: Enrolled) -> Self {
        Self {
            device: enrolled.device,
            token: enrolled.token,
            role: enrolled.role,
            epoch: None,
            cursor: 0,
            digest: Digest::default(),
            read: Vec::new(),
            round_trips: 0,
        }
    }

    /// Entry `device_seq` of this phone, the same each time.
    pub fn entry(&self, device_seq: DeviceSeq) -> Entry {
        Entry {
            device: self.device,
            device_seq,
            hlc: Hlc(Millis(1_700_000_000_000), 0),
            kind: "bin-kept".into(),
            kind_version: 1,
            payload: RawValue::from_string(format!("{{\"n\": {device_seq}}}")).unwrap(),
        }
    }

    pub fn entries(&self, range: std::ops::RangeInclusive<DeviceSeq>) -> Vec<Entry> {
        range.map(|n| self.entry(n)).collect()
    }

    pub fn request(&self, entries: Vec<Entry>) -> ExchangeRequest {
        ExchangeRequest { v: VERSION, epoch: self.epoch, cursor: self.cursor, entries }
    }

    /// One exchange; the page is read as a phone reads it.
    pub async fn exchange(
        &mut self,
        house: &House,
        entries: Vec<Entry>,
    ) -> Result<ExchangeReply, Refused> {
        let reply: ExchangeReply =
            self.post(house, "/api/v1/exchange", &self.request(entries)).await?;
        self.round_trips += 1;
        for row in &reply.rows {
            let hash = match &row.content {
                Content::Entry(entry) => entry.hash(),
                Content::Own(device_seq) => self.entry(*device_seq).hash(),
            };
            self.digest = self.digest.then(hash);
            assert_eq!(row.seq, self.cursor + 1, "the log is dense");
            self.cursor = row.seq;
        }
        assert_eq!((self.cursor, self.digest), (reply.cursor, reply.digest));
        self.read.extend(reply.rows.iter().map(|row| row.content.clone()));
        self.epoch = Some(reply.epoch);
        Ok(reply)
    }

    /// Exchanges until there is no more.
    pub async fn read_all(&mut self, house: &House) {
        while self.exchange(house, Vec::new()).await.unwrap().more {}
    }

    pub async fn post<T: DeserializeOwned>(
        &self,
        house: &House,
        path: &str,
        body: &impl Serialize,
    ) -> Result<T, Refused> {
        answer(house.request(Method::POST, path).bearer_auth(&self.token).json(body)).await
    }

    pub async fn get<T: DeserializeOwned>(&self, house: &House, path: &str) -> Result<T, Refused> {
        answer(house.request(Method::GET, path).bearer_auth(&self.token)).await
    }
}

/// A refusal as it came over the wire.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    pub status: StatusCode,
    pub code: RefusalCode,
}

/// Sends `request`; every answer that is no success must be a refusal with the status its code
/// names and words for a person.
pub async fn answer<T: DeserializeOwned>(request: RequestBuilder) -> Result<T, Refused> {
    let response = request.send().await.unwrap();
    let status = response.status();
    let kept = response.headers().get("cache-control");
    assert_eq!(kept.map(HeaderValue::as_bytes), Some(&b"no-store"[..]), "{}", response.url());
    assert!(response.headers().contains_key("content-security-policy"));
    let bytes = response.bytes().await.unwrap();
    if status.is_success() {
        let bytes = if bytes.is_empty() { &b"null"[..] } else { &bytes };
        return Ok(serde_json::from_slice(bytes).unwrap());
    }
    let refusal: Refusal = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(status.as_u16(), refusal.code.status());
    assert!(!refusal.message.is_empty());
    Err(Refused { status, code: refusal.code })
}

/// The code of a call that must be refused.
pub fn refused<T: std::fmt::Debug>(result: Result<T, Refused>) -> RefusalCode {
    result.unwrap_err().code
}
