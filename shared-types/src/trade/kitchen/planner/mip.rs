//! The one place that speaks to the solver.
//!
//! A part of the model is solved with the rest held: held columns are put into the right sides, and
//! rows of held columns only are left out, which makes the part as small as it can be.

use microlp::{
    ComparisonOp, Error, OptimizationDirection, Problem, SolveOptions, SolveOutcome, Variable,
};

use super::model::{Model, Sense};

/// What a solve found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    /// Values of all columns of the whole model; `None` when the nodes ran out before any.
    pub(super) values: Option<Vec<f64>>,
    /// No assignment of the part is worth more.
    pub(super) bound: Option<f64>,
    /// Nodes spent.
    pub(super) nodes: u64,
}

/// How to solve.
#[derive(Clone, Copy, Debug)]
pub(super) struct How<'a> {
    /// Columns that must be whole; none in the relaxation.
    pub(super) whole: Whole<'a>,
    /// Nodes at most.
    pub(super) nodes: u64,
    /// Stop this near the best, relatively.
    pub(super) gap: f64,
    /// Values to begin with.
    pub(super) start: Option<&'a [f64]>,
}

/// Which of the whole columns must be whole.
#[derive(Clone, Copy, Debug)]
pub(super) enum Whole<'a> {
    All,
    None,
    /// Those marked.
    Some(&'a [bool]),
}

impl Whole<'_> {
    fn asks(self, column: usize) -> bool {
        match self {
            Self::All => true,
            Self::None => false,
            Self::Some(marked) => marked[column],
        }
    }
}

/// Rounding of a row whose columns are all held, in its own units (kilograms, minutes, loads).
const HELD_SLACK: f64 = 1e-6;

/// Solves the model with some columns held at a value. `None` when nothing is possible.
///
/// # Errors
/// The solver's own words when it gave up.
pub(super) fn solve(
    model: &Model,
    held: &[Option<f64>],
    how: How<'_>,
) -> Result<Option<Found>, String> {
    let mut part = Problem::new(OptimizationDirection::Maximize);
    let mut constant = model.constant;
    let mut variables: Vec<Option<Variable>> = Vec::with_capacity(model.columns.len());
    let whole = |at: usize| model.columns[at].whole && how.whole.asks(at);
    for (at, (column, held)) in model.columns.iter().zip(held).enumerate() {
        if let Some(value) = held {
            constant += column.worth * value;
            variables.push(None);
        } else if whole(at) {
            let range = (column.least as i32, column.most as i32);
            variables.push(Some(part.add_integer_var(column.worth, range)));
        } else {
            variables.push(Some(part.add_var(column.worth, (column.least, column.most))));
        }
    }
    for row in &model.rows {
        let mut right = row.right;
        let mut terms = Vec::with_capacity(row.terms.len());
        for (at, factor) in &row.terms {
            match (variables[*at], held[*at]) {
                (Some(variable), _) => terms.push((variable, *factor)),
                (None, Some(value)) => right -= factor * value,
                (None, None) => {}
            }
        }
        if terms.is_empty() {
            let broken = match row.sense {
                Sense::AtMost => right < -HELD_SLACK,
                Sense::AtLeast => right > HELD_SLACK,
                Sense::Exactly => right.abs() > HELD_SLACK,
            };
            if broken {
                return Ok(None);
            }
            continue;
        }
        let sense = match row.sense {
            Sense::AtMost => ComparisonOp::Le,
            Sense::AtLeast => ComparisonOp::Ge,
            Sense::Exactly => ComparisonOp::Eq,
        };
        part.add_constraint(terms.as_slice(), sense, right);
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(how.nodes);
    options.mip_gap = how.gap;
    options.warm_start = how.start.map(|start| {
        let columns = variables.iter().zip(start).enumerate();
        columns
            .filter(|(at, _)| whole(*at))
            .filter_map(|(_, (variable, value))| Some(((*variable)?, *value)))
            .collect()
    });
    let outcome = match part.solve_with(options) {
        Ok(outcome) => outcome,
        Err(Error::Infeasible) => return Ok(None),
        Err(error) => return Err(error.to_string()),
    };
    let stats = outcome.stats();
    let values = outcome.solution().map(|solution| {
        let value = |(at, variable): (usize, &Option<Variable>)| match variable {
            Some(variable) if whole(at) => libm::round(solution.var_value(*variable)),
            Some(variable) => solution.var_value(*variable),
            None => held[at].unwrap_or(0.0),
        };
        variables.iter().enumerate().map(value).collect::<Vec<f64>>()
    });
    let bound = match &outcome {
        SolveOutcome::Solution(solution) if matches!(how.whole, Whole::None) => {
            Some(solution.objective())
        }
        _ => stats.best_bound,
    };
    Ok(Some(Found {
        values,
        bound: bound.map(|bound| bound + constant),
        nodes: stats.nodes_solved,
    }))
}
