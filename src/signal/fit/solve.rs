//! Normal equations of least squares.

/// Solves a symmetric system by Cholesky's way; nothing where it has no unique solution. The
/// matrix is given by rows and is used up.
pub fn solve(mut matrix: Vec<f64>, mut right: Vec<f64>) -> Option<Vec<f64>> {
    let size = right.len();
    for row in 0..size {
        for column in 0..=row {
            let mut sum = matrix[row * size + column];
            for k in 0..column {
                sum -= matrix[row * size + k] * matrix[column * size + k];
            }
            matrix[row * size + column] = match row == column {
                false => sum / matrix[column * size + column],
                // What is left of a column that the others make up is rounding.
                true if sum > 1e-9 * matrix[row * size + row] => sum.sqrt(),
                true => return None,
            };
        }
    }
    for row in 0..size {
        for k in 0..row {
            right[row] -= matrix[row * size + k] * right[k];
        }
        right[row] /= matrix[row * size + row];
    }
    for row in (0..size).rev() {
        for k in row + 1..size {
            right[row] -= matrix[k * size + row] * right[k];
        }
        right[row] /= matrix[row * size + row];
    }
    Some(right)
}

#[cfg(test)]
mod tests {
    use super::solve;

    #[test]
    fn solves_what_has_a_solution_and_nothing_else() {
        let matrix = vec![4.0, 2.0, 0.0, 2.0, 5.0, 1.0, 0.0, 1.0, 3.0];
        let found = solve(matrix, vec![8.0, 15.0, 11.0]).expect("it is definite");
        for (found, due) in found.iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - due).abs() < 1e-12);
        }
        assert_eq!(solve(vec![1.0, 1.0, 1.0, 1.0], vec![1.0, 1.0]), None);
    }
}
