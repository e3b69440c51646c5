//! A phone that had parted from its copy used to forget what had been acknowledged under the id they
//! shared. When the copy was lost and the server restored from an older backup, it was gone.

use tests::sim::{Case, Do, Sabotage, Step, Trouble, What, run};

fn case() -> Case {
    Case {
        devices: 2,
        steps: vec![
            Step(60, 0, Do::Bin, 1),
            // After the backup, and acknowledged.
            Step(200, 0, Do::Bin, 2),
            // The copy, device 2, writes first under the id they share; the original takes another.
            Step(600, 2, Do::Bin, 3),
            Step(700, 0, Do::Bin, 4),
            // Opened again: what it knows is what its disk knows.
            Step(800, 0, Do::Close(1), 5),
        ],
        troubles: vec![
            Trouble(100, 0, What::Backup),
            Trouble(400, 0, What::Clone),
            Trouble(900, 2, What::Lose),
            Trouble(1_200, 0, What::Restore(0)),
        ],
        fates: vec![],
    }
}

#[test]
fn what_was_written_under_an_earlier_id_refills_a_restored_server() {
    let report = run(&case(), Sabotage::None).unwrap();
    assert_eq!(report.of("written again under a later id"), 1);
    // What only the lost copy and the lost days of the server had.
    assert_eq!(report.of("entries destroyed with every holder"), 1);
    assert_eq!(report.rows, 3);
}

#[test]
fn and_is_missed_when_it_does_not() {
    let broken = run(&case(), Sabotage::FormerForgotten).unwrap_err();
    assert!(broken.0.starts_with("lost: "), "{broken}");
}
