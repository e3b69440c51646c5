//! The methods, for programs: the same JSON as `lugbook method --json`.

use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use serde::{Deserialize, Serialize};
use shared_types::ids::MethodId;
use shared_types::outlook;
use shared_types::trade::methods::{self, Canner, Jar, Kind, Told};
use shared_types::units::Altitude;
use shared_types::wire::RefusalCode;

use super::App;
use crate::error::Error;
use crate::store::Device;

/// A method in the list of all.
#[derive(Debug, Serialize)]
pub(super) struct Listed {
    method: MethodId,
    name: &'static str,
    kind: Kind,
}

/// `GET /api/v1/methods`: all methods, jars first.
pub(super) async fn list(_device: Device) -> Json<Vec<Listed>> {
    let listed =
        |m: &'static methods::Method| Listed { method: m.id.clone(), name: &m.name, kind: m.kind };
    Json(methods::all().iter().map(listed).collect())
}

/// What is asked of a method. All may be left out.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MethodQuery {
    /// `pint`, `half-pint`, …; the first that is offered when left out.
    jar: Option<String>,
    /// `870m`, `2855ft`; the holding's when left out.
    altitude: Option<String>,
    /// `boiling-water`, `steam`, `dial`, `weighted`.
    canner: Option<String>,
}

/// `GET /api/v1/methods/tomato-juice?jar=pint&altitude=870m&canner=boiling-water`: the safe values,
/// or the refusal with its reason and source. A jar always has exactly one of `offer` and `refusal`.
pub(super) async fn method(
    State(app): State<App>,
    _device: Device,
    Path(name): Path<String>,
    query: Result<Query<MethodQuery>, QueryRejection>,
) -> Result<Json<Told>, Error> {
    let Query(query) = query.map_err(|error| malformed(&error))?;
    let method = methods::named(&name).map_err(|error| malformed(&error))?;
    let jar = read(query.jar.as_deref(), "jar", Jar::from_word)?;
    let canner = read(query.canner.as_deref(), "canner", Canner::from_word)?;
    let given: Option<Altitude> =
        query.altitude.map(|text| text.parse()).transpose().map_err(|error| malformed(&error))?;
    let (holding, confirmed) = app
        .store
        .look(|book| (book.holding.altitude.get().copied(), outlook::confirmed(book)))
        .await?;
    let altitude = given.or(holding).ok_or_else(|| {
        malformed(&"how high? give altitude, such as 870m or 2855ft, or set the holding's")
    })?;
    Ok(Json(methods::told(method, jar, canner, altitude, &confirmed)))
}

fn read<T>(
    word: Option<&str>,
    what: &str,
    from_word: impl Fn(&str) -> Option<T>,
) -> Result<Option<T>, Error> {
    let Some(word) = word else { return Ok(None) };
    let wrong = || {
        malformed(&format!(
            "no {what} is called `{word}`: leave it out, or write it as the methods do, such as pint or boiling-water"
        ))
    };
    from_word(word).map(Some).ok_or_else(wrong)
}

fn malformed(why: &impl ToString) -> Error {
    RefusalCode::Malformed { reason: why.to_string() }.into()
}
