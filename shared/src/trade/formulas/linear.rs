//! Small systems of linear equations, by Gaussian elimination with partial pivoting. At most eight unknowns are needed
//! here; a library of matrices would be larger than all of this arithmetic.

/// A pivot below this share of the largest coefficient counts as 0.
const SINGULAR: f64 = 1e-12;

/// Solves `rows` · x = `right`; `None` if there is not exactly one solution.
pub(super) fn solve<const N: usize>(mut rows: [[f64; N]; N], mut right: [f64; N]) -> Option<[f64; N]> {
    let largest = rows
        .iter()
        .flatten()
        .fold(0.0, |most: f64, one| most.max(one.abs()));
    for at in 0..N {
        let pivot = (at..N).max_by(|a, b| rows[*a][at].abs().total_cmp(&rows[*b][at].abs()))?;
        rows.swap(at, pivot);
        right.swap(at, pivot);
        if rows[at][at].abs() <= SINGULAR * largest {
            return None;
        }
        let (row, value) = (rows[at], right[at]);
        for below in at + 1..N {
            let share = rows[below][at] / row[at];
            for (cell, over) in rows[below].iter_mut().zip(row) {
                *cell -= share * over;
            }
            right[below] -= share * value;
        }
    }
    for at in (0..N).rev() {
        let known: f64 = (at + 1..N).map(|later| rows[at][later] * right[later]).sum();
        right[at] = (right[at] - known) / rows[at][at];
    }
    Some(right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_has_no_single_answer_has_none() {
        assert_eq!(solve([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]), None);
        assert_eq!(
            solve([[0.0, 1.0], [1.0, 0.0]], [3.0, 4.0]),
            Some([4.0, 3.0]),
            "rows are changed over"
        );
    }

    proptest! {
        #[test]
        fn the_answer_solves_it(rows in prop::array::uniform4([-1.0..1.0f64, -1.0..1.0, -1.0..1.0, -1.0..1.0]), x in [-9.0..9.0f64, -9.0..9.0, -9.0..9.0, -9.0..9.0]) {
            // A dominant diagonal, so that the system is far from singular.
            let mut rows = rows;
            (0..4).for_each(|at| rows[at][at] += 5.0);
            let right = rows.map(|row| row.iter().zip(x).map(|(a, b)| a * b).sum());
            let got = solve(rows, right).unwrap();
            for (got, expected) in got.into_iter().zip(x) {
                prop_assert!((got - expected).abs() < 1e-12 * 100.0);
            }
        }
    }
}
