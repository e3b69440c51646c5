//! Cases of nights and stores, of which nothing is kept: the same JSON as the command line's.

use axum::Json;
use axum::body::Body;
use shared_types::trade::{cold, stores};
use shared_types::wire::RefusalCode;

use super::body::text;
use crate::error::Error;
use crate::store::Device;

/// `POST /api/v1/tonight` of a case.
pub(super) async fn tonight(
    _device: Device,
    body: Body,
) -> Result<Json<cold::case::Answer>, Error> {
    let text = text(body).await?;
    let told = cold::case::Case::parse(&text).and_then(|case| cold::case::run(&case));
    told.map(Json).map_err(|error| malformed(&error))
}

/// `POST /api/v1/stores` of a case.
pub(super) async fn stores(
    _device: Device,
    body: Body,
) -> Result<Json<stores::case::Answer>, Error> {
    let text = text(body).await?;
    let told = stores::case::Case::parse(&text).and_then(|case| stores::case::run(&case));
    told.map(Json).map_err(|error| malformed(&error))
}

fn malformed(why: &impl ToString) -> Error {
    RefusalCode::Malformed { reason: why.to_string() }.into()
}
