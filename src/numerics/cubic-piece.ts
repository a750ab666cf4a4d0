/**
 * The cubic between two nodes of a table that hold a value and, after it, the slope there.
 *
 * @param nodes - of the table; slopes are per distance of two nodes
 * @param from - place of the value at the earlier node
 * @param to - place of the value at the later one
 * @param t - where between them, [0, 1]
 * @source cubic Hermite interpolation
 */
export function cubicPiece(nodes: Float64Array, from: number, to: number, t: number): number {
  const y0 = nodes[from] as number // within the table, as are the next three
  const d0 = nodes[from + 1] as number
  const y1 = nodes[to] as number
  const d1 = nodes[to + 1] as number
  const rise = y1 - y0
  return y0 + t * (d0 + t * (3 * rise - 2 * d0 - d1 + t * (d0 + d1 - 2 * rise)))
}
