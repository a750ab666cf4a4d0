import type { Browser } from 'playwright-core'
import { openFile } from './chromium.ts'

// 7.5 points, the smallest type on paper, in pixels of 96 an inch
const SMALLEST_PX = 10

/**
 * Texts that print smaller than 7.5 points.
 *
 * @param browser - open
 * @param file - path of the page
 * @param notPrinted - selectors of what paper does not show, each after a comma
 * @returns size and beginning of each
 */
export async function smallText(browser: Browser, file: string, notPrinted = ''): Promise<string[]> {
  const page = await openFile(browser, file, { viewport: { width: 703, height: 1039 }, media: 'print' })
  return page.evaluate<string[]>(`
    [...document.querySelectorAll('body *')]
      .filter(one => [...one.childNodes].some(node => node.nodeType === 3 && node.textContent.trim() !== ''))
      .filter(one => !one.closest('title, desc, style${notPrinted}'))
      .map(one => {
        const svg = one.closest('svg')
        const scale = svg === null ? 1 : svg.getBoundingClientRect().width / svg.viewBox.baseVal.width
        return [parseFloat(getComputedStyle(one).fontSize) * scale, one.textContent.trim().slice(0, 40)]
      })
      .filter(([size]) => size < ${SMALLEST_PX - 0.01})
      .map(([size, text]) => size.toFixed(1) + ' px: ' + text)`)
}
