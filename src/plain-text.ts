/**
 * The one door for text from files, on its way to a terminal, a page, a table or another file: what could move a cursor,
 * turn the direction of what follows, or cannot be shown becomes a sign that can be seen.
 */

/** Control characters but tab and line feed, line separators, marks that reverse direction, halves of a pair. */
const UNSHOWN = /[^\P{Cc}\t\n]|[\u2028\u2029\u202a-\u202e\u2066\u2067]|\p{Cs}/gu
/** The same, with tab, line feed and the marks that isolate: what is left unescaped in JSON although it does harm. */
const UNSHOWN_IN_JSON = /[\u007f-\u009f\u200e\u200f\u061c\u2028\u2029\u202a-\u202e\u2066-\u2069]/g
/** Pictures of the control characters 0 to 31 begin here; the one of 127 is 2421. */
const PICTURES = 0x2400

/**
 * Text that cannot affect what is around it. Line feeds and tabs stay, and so do the marks U+2068 and U+2069, by
 * which the report isolates names that run from right to left.
 *
 * @param text - any text
 * @returns control characters as their pictures (U+2400 …), all else that is not shown as U+FFFD
 * @example visible('a\u001b[31mb') // 'a␛[31mb'
 */
export function visible(text: string): string {
  return text.replace(UNSHOWN, sign => {
    const code = sign.charCodeAt(0)
    return code < 32 ? String.fromCharCode(PICTURES + code) : code === 127 ? '\u2421' : '\ufffd'
  })
}

/**
 * The same on one line, for names of files, keys, columns and groups.
 *
 * @param text - any text
 * @returns without line feeds and tabs: a space for each run of them
 * @example onOneLine('two\n\tlines') // 'two lines'
 */
export function onOneLine(text: string): string {
  return visible(text.replace(/[\t\r\n]+/g, ' '))
}

/**
 * JSON whose strings hold the same characters, with those that a terminal or a YAML reader would not take as \u escapes.
 *
 * @param json - JSON text
 * @returns JSON text of the same value
 * @example escapedJson('"\u009b"') // '"\\u009b"'
 */
export function escapedJson(json: string): string {
  return json.replace(UNSHOWN_IN_JSON, sign => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`)
}

/** A text with its first letter as a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
