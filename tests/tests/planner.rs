//! The planner in a worker of a real browser: the same plan as natively, to the last bit, also
//! without a network, while the page stays free.

use shared_types::trade::kitchen::planner::{Effort, Plan, solve};
use tests::browser::{Browser, Driver, PHONE};
use tests::house::{House, free_port};
use tests::planner::plan_in_worker;

#[path = "../../shared-types/examples/plan/cases.rs"]
mod cases;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_phone_plans_alone_as_the_house_would() {
    let data = tempfile::tempdir().expect("a folder");
    let program = std::path::Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::start(program, data.path(), free_port()).await.expect("starts");
    let driver = Driver::start().await.expect("chromedriver");
    let phone = Browser::open(&driver, PHONE).await.expect("a browser");
    phone.go(&house.url).await.expect("opens");
    const KEPT: &str = "return document.documentElement.dataset.offline === 'ready'";
    phone.until(KEPT, vec![], "every file is kept").await;
    phone.offline(true).await.expect("goes offline");
    phone.reload().await.expect("loads without a network");

    // A kitchen of a single lot: small enough for a program that is not optimised.
    let mut problem = cases::case(2);
    problem.lots.truncate(2);
    let text = serde_json::to_string(&problem).expect("writes");
    let planned = plan_in_worker(&phone, &text).await.expect("answers");
    let plan = &planned.answer["plan"];
    assert!(plan.is_object(), "{planned:?}");
    assert!(planned.told > 0 && planned.turns > 0, "{planned:?}");
    let there: Plan = serde_json::from_value(plan.clone()).expect("a plan");
    let here = solve(&problem, Effort::default(), &mut |_| ()).expect("a plan");
    assert_eq!(there, here);

    let planned = plan_in_worker(&phone, r#"{"today": 1}"#).await.expect("answers");
    let words = planned.answer["failed"].as_str().unwrap_or_default();
    assert!(words.contains("the problem does not read"), "{planned:?}");
    phone.close().await.expect("closes");
}
