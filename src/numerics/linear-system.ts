/**
 * Small dense systems of equations, for the handful of parameters of a fit. Matrices are arrays of rows.
 */

/** A small dense matrix: rows of equal length. */
export type Matrix = readonly (readonly number[])[]

/**
 * The solution of a square system, by elimination with row exchange.
 *
 * @param matrix - n × n
 * @param right - n values
 * @returns x with matrix · x = right; null where the matrix is singular to working precision
 * @example solve([[2, 0], [0, 4]], [2, 2]) // [1, 0.5]
 */
export function solve(matrix: Matrix, right: readonly number[]): number[] | null {
  const n = right.length
  const rows = matrix.map((row, r) => [...row, right[r] ?? 0])
  let largest = 0
  for (const row of matrix) for (const value of row) largest = Math.max(largest, Math.abs(value))
  for (let column = 0; column < n; column++) {
    let best = column
    for (let r = column + 1; r < n; r++) if (Math.abs(at(rows, r, column)) > Math.abs(at(rows, best, column))) best = r
    const pivotRow = rows[best]
    const otherRow = rows[column]
    if (pivotRow === undefined || otherRow === undefined) return null
    rows[best] = otherRow
    rows[column] = pivotRow
    const pivot = pivotRow[column] ?? 0
    if (!(Math.abs(pivot) > largest * 1e-15)) return null
    for (let r = column + 1; r < n; r++) {
      const row = rows[r]
      if (row === undefined) continue
      const factor = (row[column] ?? 0) / pivot
      for (let c = column; c <= n; c++) row[c] = (row[c] ?? 0) - factor * (pivotRow[c] ?? 0)
    }
  }
  const x = new Array<number>(n).fill(0)
  for (let r = n - 1; r >= 0; r--) {
    let sum = at(rows, r, n)
    for (let c = r + 1; c < n; c++) sum -= at(rows, r, c) * (x[c] ?? 0)
    x[r] = sum / at(rows, r, r)
  }
  return x.every(Number.isFinite) ? x : null
}

/**
 * The inverse of a square matrix.
 *
 * @param matrix - n × n
 * @returns n × n; null where the matrix is singular to working precision
 * @example inverse([[2, 0], [0, 4]]) // [[0.5, 0], [0, 0.25]]
 */
export function inverse(matrix: Matrix): number[][] | null {
  const n = matrix.length
  const columns: number[][] = []
  for (let c = 0; c < n; c++) {
    const unit = new Array<number>(n).fill(0)
    unit[c] = 1
    const column = solve(matrix, unit)
    if (column === null) return null
    columns.push(column)
  }
  return columns.map((_, r) => columns.map(column => column[r] ?? 0))
}

/**
 * The lower triangle L of a symmetric positive definite matrix, L · Lᵀ = matrix.
 *
 * @param matrix - n × n, symmetric
 * @returns n × n, zeros above the diagonal; null where the matrix is not positive definite
 * @example cholesky([[4, 2], [2, 5]]) // [[2, 0], [1, 2]]
 */
export function cholesky(matrix: Matrix): number[][] | null {
  const n = matrix.length
  const lower = matrix.map(() => new Array<number>(n).fill(0))
  for (let r = 0; r < n; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = at(matrix, r, c)
      for (let k = 0; k < c; k++) sum -= at(lower, r, k) * at(lower, c, k)
      const row = lower[r]
      if (row === undefined) return null
      if (r === c) {
        if (!(sum > 0)) return null
        row[c] = Math.sqrt(sum)
      } else {
        row[c] = sum / at(lower, c, c)
      }
    }
  }
  return lower
}

/**
 * The value a quadratic form takes, vᵀ · matrix · v.
 *
 * @param matrix - n × n
 * @param vector - n values
 * @returns one number
 * @example quadraticForm([[2, 0], [0, 3]], [1, 2]) // 14
 */
export function quadraticForm(matrix: Matrix, vector: readonly number[]): number {
  let sum = 0
  matrix.forEach((row, r) => {
    row.forEach((value, c) => {
      sum += value * (vector[r] ?? 0) * (vector[c] ?? 0)
    })
  })
  return sum
}

function at(matrix: Matrix, row: number, column: number): number {
  return matrix[row]?.[column] ?? 0
}
