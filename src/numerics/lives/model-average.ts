/**
 * Cumulative hazard of the average model at which a share has failed, averaged over product models whose
 * hazard is multiplied by a gamma multiplier of mean 1 (M4).
 * H = ((1−F)^(−c²) − 1)/c², from F = 1 − (1 + c²H)^(−1/c²); c = 0: −ln(1−F)
 *
 * @param share - F, [0, 1)
 * @param spread - c, >= 0
 * @returns H, >= 0
 * @source Laplace transform of the gamma distribution; as frailty: Vaupel, Manton & Stallard (1979), Demography 16, 439–454 (recalled)
 * @example hazardOfShare(0.343, 0) // 0.42007
 */
export function hazardOfShare(share: number, spread: number): number {
  const plain = -Math.log1p(-share)
  if (spread === 0) return plain
  const variance = spread * spread
  return Math.expm1(variance * plain) / variance
}
