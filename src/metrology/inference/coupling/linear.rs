//! Linear equations, as few as adjusters are.

pub(in crate::metrology) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The inverse of a square matrix; `None` when a pivot is below `least`.
pub(super) fn invert(matrix: &[Vec<f64>], least: f64) -> Option<Vec<Vec<f64>>> {
    let unit = |at: usize| (0..matrix.len()).map(|i| f64::from(i == at)).collect();
    let columns: Vec<Vec<f64>> = (0..matrix.len())
        .map(|at| solve(matrix.to_vec(), unit(at), least))
        .collect::<Option<_>>()?;
    let line = |i: usize| columns.iter().map(|column| column[i]).collect();
    Some((0..matrix.len()).map(line).collect())
}

/// Gaussian elimination with partial pivoting; `None` when a pivot is below `least`.
pub(super) fn solve(
    mut matrix: Vec<Vec<f64>>,
    mut right: Vec<f64>,
    least: f64,
) -> Option<Vec<f64>> {
    let count = right.len();
    for step in 0..count {
        let size = |&i: &usize| matrix[i][step].abs();
        let pivot = (step..count).max_by(|a, b| size(a).total_cmp(&size(b)))?;
        matrix.swap(step, pivot);
        right.swap(step, pivot);
        if matrix[step][step].abs() < least {
            return None;
        }
        let (above, below) = matrix.split_at_mut(step + 1);
        let (head, pivot) = (&above[step], right[step]);
        for (line, value) in below.iter_mut().zip(&mut right[step + 1..]) {
            let factor = line[step] / head[step];
            let entries = line.iter_mut().zip(head).skip(step);
            entries.for_each(|(entry, of_head)| *entry -= factor * of_head);
            *value -= factor * pivot;
        }
    }
    for step in (0..count).rev() {
        let known = dot(&matrix[step][step + 1..], &right[step + 1..]);
        right[step] = (right[step] - known) / matrix[step][step];
    }
    Some(right)
}
