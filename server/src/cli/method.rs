//! `lugbook method`

use clap::Args;
use shared_types::outlook;
use shared_types::trade::methods::{
    self, Canner, Confirmed, Jar, Kind, Offer, Told, headspace_words,
};
use shared_types::units::Altitude;

use super::{DataArguments, Failure, book, say};

/// Arguments of `lugbook method`.
#[derive(Debug, Args)]
pub(super) struct MethodArguments {
    #[command(flatten)]
    data: DataArguments,
    /// The method: its key, its name or a part of one; all are listed when left out.
    name: Option<String>,
    /// The jar: half-pint, pint, pint-and-a-half or quart; the first that is offered when left out.
    #[arg(long, value_parser = jar)]
    jar: Option<Jar>,
    /// Height above the sea, such as 870m or 2855ft; the holding's when left out.
    #[arg(long, allow_hyphen_values = true)]
    altitude: Option<Altitude>,
    /// boiling-water, steam, dial or weighted; boiling water when left out, a dial for what is low
    /// in acid.
    #[arg(long, value_parser = canner)]
    canner: Option<Canner>,
    /// Print JSON; for a jar it holds either `offer` or `refusal`.
    #[arg(long)]
    json: bool,
}

fn jar(word: &str) -> Result<Jar, String> {
    Jar::from_word(word).ok_or_else(|| {
        let sizes: Vec<_> = Jar::ALL.into_iter().map(Jar::words).collect();
        format!("no jar is called `{word}`; there are: {}", sizes.join(", "))
    })
}

fn canner(word: &str) -> Result<Canner, String> {
    Canner::from_word(word).ok_or_else(|| {
        format!("no canner is called `{word}`: boiling-water, steam, dial or weighted")
    })
}

pub(super) fn run(arguments: MethodArguments) -> Result<(), Failure> {
    let Some(name) = &arguments.name else { return list() };
    let method = methods::named(name)?;
    let (altitude, confirmed) = match arguments.altitude {
        Some(altitude) => (altitude, Vec::new()),
        None => holding(arguments.data)?,
    };
    let told = methods::told(method, arguments.jar, arguments.canner, altitude, &confirmed);
    let text = if arguments.json { serde_json::to_string_pretty(&told)? } else { words(&told) };
    Ok(say::line(text)?)
}

/// The holding's height, and what its owner has read in a printed guide.
fn holding(data: DataArguments) -> Result<(Altitude, Vec<Confirmed>), Failure> {
    let none = "no height to tell the time for: give --altitude, such as 870m or 2855ft";
    let book = book::read(&data.config()).map_err(|error| format!("{none} ({error})"))?;
    let altitude = book.holding.altitude.get().copied().ok_or(none)?;
    Ok((altitude, outlook::confirmed(&book)))
}

fn list() -> Result<(), Failure> {
    let lines: Vec<Vec<String>> =
        methods::all().iter().map(|m| vec![format!("{}  {}", m.id, m.name)]).collect();
    Ok(say::line(say::columns(&lines))?)
}

/// A card for a terminal: what makes it safe first.
fn words(told: &Told) -> String {
    let mut lines = vec![told.name.clone()];
    let cite = |id: &str| told.sources.get(id).cloned().unwrap_or_else(|| id.to_owned());
    match (&told.offer, &told.refusal) {
        (Some(offer), _) => lines.extend(offered(offer, told, &cite)),
        (None, Some(refusal)) => {
            lines.push(format!("Not offered: {}", refusal.reason));
            lines.push(format!("  source: {}", cite(&refusal.source)));
            for one in &told.instead {
                lines.push(format!("Offered: {}, {}", one.jar.words(), one.canner.words()));
            }
        }
        (None, None) => {}
    }
    if let Some(inches) = &told.headspace_inches {
        lines.push(format!(
            "Headspace {} ({}): {}",
            headspace_words(inches.value),
            inches.mark.words(),
            cite(&inches.source)
        ));
    }
    lines.extend(told.recipe.iter().map(|part| format!("  {} {}", part.text, part.name)));
    lines.extend(told.steps.iter().enumerate().map(|(n, step)| format!("{}. {step}", n + 1)));
    lines.extend(told.cautions.iter().map(|said| format!("Mind: {} [{}]", said.text, said.source)));
    for conflict in &told.conflicts {
        let range = conflict.range().map_or(String::new(), |range| format!(" ({range})"));
        lines.push(format!("Sources differ on {}{range}. {}", conflict.about, conflict.followed));
    }
    for row in &told.to_confirm {
        lines.push(format!("Unconfirmed: {} [{}]", row.words, row.row));
    }
    if told.kind == Kind::Jar {
        lines.push("Follow your extension service where it differs.".to_owned());
    }
    lines.join("\n")
}

fn offered(offer: &Offer, told: &Told, cite: &impl Fn(&str) -> String) -> Vec<String> {
    let psi = offer.psi.map_or(String::new(), |psi| format!(" at {psi} psi"));
    let mut lines = vec![
        format!(
            "{} minutes{psi} in {}, {} jars, {:.0} m ({:.0} ft; {})",
            offer.minutes,
            offer.canner.words(),
            offer.jar.words(),
            told.altitude_m,
            told.altitude_ft,
            offer.band_text
        ),
        format!("  source: {} ({})", cite(&offer.source), offer.mark.words()),
        format!("Headspace {}", offer.headspace_text),
        format!("  source: {}", cite(&offer.headspace_inches.source)),
    ];
    lines.extend(offer.acid.iter().map(|acid| format!("Acid: {}", acid.text)));
    if let Some(minutes) = offer.sterile_jar_minutes {
        lines.push(format!("Boil the empty jars {minutes} minutes"));
    }
    for other in &offer.alternatives {
        lines.push(format!("Or {} minutes at {} psi", other.minutes, other.psi));
    }
    if let (Some(load), Some(jars)) = (&told.load_minutes, told.jars_per_load) {
        let [least, most] = load.total;
        lines.push(format!("A load of {jars} takes {least} to {most} minutes in all"));
    }
    lines
        .extend(offer.cautions.iter().map(|said| format!("Mind: {} [{}]", said.text, said.source)));
    lines
}
