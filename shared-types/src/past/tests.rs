use super::*;

fn take(text: &str) -> Past {
    read(text, WeightUnit::Kg, 2026, &std::iter::empty())
}

#[test]
fn a_plain_spreadsheet_comes_in() {
    let past = take(
        "\u{feff}Year,Crop,Variety,Bed,Yield (kg),Plants,Area m2,First,Last,Weather,Notes\r\n\
         2024,Tomatoes,Paste,Bed 3,84.2,20,9,2024-08-12,2024-10-03,dry,\"early, hard frost\"\r\n\
         \r\n\
         2023,winter squash,,,61,,,,,,\r\n",
    );
    assert_eq!(past.problems, []);
    assert_eq!(past.passed_over, ["Weather"]);
    let [first, second] = past.lines.as_slice() else { panic!("{past:?}") };
    assert_eq!((first.line, first.year, first.crop.as_str()), (2, 2024, "tomato"));
    assert_eq!((first.grams, first.plants, first.area_dm2), (Grams(84_200), Some(20), Some(900)));
    assert_eq!(first.note.as_deref(), Some("early, hard frost"));
    assert_eq!((second.line, second.crop.as_str()), (4, "winter-squash"));
    assert_eq!((second.grams, &second.variety), (Grams(61_000), &None));
}

#[test]
fn other_habits_of_spreadsheets_are_read_alike() {
    let cases = [
        ("year;crop;kg\n2024;tomato;84,2\n", 84_200),
        ("crop\tlb\tyear\ntomato\t100\t2024\n", 45_359),
        ("year,crop,grams\n2024,Tomato,500\n", 500),
        ("season,crop,weight\n2024,TOMATO,12 kg\n", 12_000),
        ("year,crop,weight\n2024,tomato,10lb\n", 4_536),
    ];
    for (text, grams) in cases {
        let past = take(text);
        assert_eq!(past.lines.first().map(|line| line.grams), Some(Grams(grams)), "{past:?}");
    }
    let dotted = take("year,crop,kg,first\n2024,tomato,1,12.8.2024\n");
    assert_eq!(dotted.lines[0].first, Day::from_ymd(2024, 8, 12));
}

#[test]
fn each_wrong_line_says_what_to_write_and_the_others_come_in() {
    let past = take(
        "year,crop,kg,plants,first,last\n\
         24,tomato,1,,,\n\
         2024,banana,1,,,\n\
         2024,tomato,heaps,,,\n\
         2024,tomato,\"1,200\",,,\n\
         2024,tomato,,,,\n\
         2024,tomato,1,many,,\n\
         2024,tomato,1,,3/4/2024,\n\
         2024,tomato,1,,2024-09-01,2024-08-01\n\
         2024,tomato,1,,2023-09-01,\n\
         2024,tomato,7,,,\n",
    );
    assert_eq!(past.lines.len(), 1);
    let words: Vec<(u64, &str)> =
        past.problems.iter().map(|problem| (problem.line, problem.words.as_str())).collect();
    let wanted = [
        "not between 1900",
        "no crop of this book",
        "not a number",
        "two ways",
        "weight is missing",
        "number of plants",
        "either way round; write it like 2024-08-12",
        "before the first",
        "not in the year",
    ];
    for ((line, words), (wanted_line, wanted)) in words.iter().zip((2..).zip(wanted)) {
        assert_eq!(*line, wanted_line);
        assert!(words.contains(wanted), "line {line}: {words}");
    }
    assert_eq!(words.len(), wanted.len());
}

#[test]
fn a_text_without_the_needed_columns_says_which() {
    assert!(take("crop,kg\ntomato,1\n").problems[0].words.contains("`year`"));
    assert!(take("").problems[0].words.contains("year"));
    assert!(take("year,crop,kg,lb\n").problems[0].words.contains("two columns"));
}

#[test]
fn what_is_in_the_book_already_is_marked() {
    let text = "year,crop,variety,kg\n2024,tomato,paste,5\n2024,tomato,Salad,5\n";
    let there = take(text).lines[0].record(RecordId::new(crate::units::Millis(0), [1; 10]));
    let there = SeasonRecorded { variety: Some("Paste".into()), ..there };
    let again = read(text, WeightUnit::Kg, 2026, &std::iter::once(&there));
    let known: Vec<bool> = again.lines.iter().map(|line| line.known).collect();
    assert_eq!(known, [true, false]);
}
