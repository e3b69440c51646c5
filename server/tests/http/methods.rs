//! Methods over HTTP: the same values as the command line, and the same refusals.

use serde_json::Value;
use shared_types::wire::RefusalCode;

use crate::support::{House, refused};

#[tokio::test]
async fn a_method_is_told_in_metres_and_feet_alike() {
    let house = House::new().await;
    let phone = house.phone(1).await;
    let all: Value = phone.get(&house, "/api/v1/methods").await.unwrap();
    assert!(all.as_array().unwrap().iter().any(|one| one["method"] == "tomato-ketchup"));
    for altitude in ["870m", "2855ft", "2855%20feet"] {
        let path = format!("/api/v1/methods/tomato-juice?jar=pint&altitude={altitude}");
        let told: Value = phone.get(&house, &path).await.unwrap();
        // Guide 3 (V): pints of juice, 40 minutes from 1,001 to 3,000 ft.
        assert_eq!(told["offer"]["minutes"], 40, "{altitude}");
        assert!(told.get("refusal").is_none());
    }
    let path = "/api/v1/methods/tomato-juice?jar=half-gallon&altitude=0";
    let told: Value = phone.get(&house, path).await.unwrap();
    assert_eq!(told["refusal"]["kind"], "no_published_time");
    assert!(told.get("offer").is_none() && !told["instead"].as_array().unwrap().is_empty());
}

#[tokio::test]
async fn a_question_that_cannot_be_read_says_what_would_do() {
    let house = House::new().await;
    let phone = house.phone(1).await;
    for (path, words) in [
        ("/api/v1/methods/marmalade?altitude=0", "no method is called"),
        ("/api/v1/methods/salsa?altitude=0", "say which"),
        ("/api/v1/methods/tomato-juice?altitude=high", "such as 870m"),
        ("/api/v1/methods/tomato-juice?jar=bucket&altitude=0", "no jar is called"),
        ("/api/v1/methods/tomato-juice?canner=oven&altitude=0", "no canner is called"),
        ("/api/v1/methods/tomato-juice?height=870", "height"),
        ("/api/v1/methods/tomato-juice", "how high"),
    ] {
        let answer: Result<Value, _> = phone.get(&house, path).await;
        let RefusalCode::Malformed { reason } = refused(answer) else { panic!("{path}") };
        assert!(reason.contains(words), "{path}: {reason}");
    }
}
