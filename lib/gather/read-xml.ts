import { SaxesParser } from 'saxes';
import { decodeText } from './decode-text';
import type { GivenFile } from './found-layer';
import { refused } from './refused';

/** An element of an XML document; names are without their prefix. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Partial<Record<string, string>>>;
  readonly children: XmlElement[];
  text: string;
}

/** Deeper than any document that means something. */
const deepest = 200;

/**
 * Reads an XML document as a tree. Entities that the document makes up itself are an error and never unfolded, and
 * nothing it points at is fetched.
 *
 * @throws {InputError} `gather-xml` with line and column where it is cut or no XML.
 */
export function readXml({ name: file, bytes }: GivenFile): XmlElement {
  const head = String.fromCharCode(...bytes.subarray(0, 200));
  const encoding = /^[^>]*encoding\s*=\s*["']([\w-]+)["']/.exec(head)?.[1];
  const { text } = decodeText(bytes, encoding);
  const parser = new SaxesParser({});
  const top: XmlElement = { name: '', attributes: {}, children: [], text: '' };
  const open = [top];
  const fail = (problem: string, cause?: unknown): Error =>
    refused(
      file,
      'xml',
      `at line ${parser.line}, column ${parser.columnIndex + 1}, it is cut or no XML: ${problem}`,
      'export it again, or get it again from where it came',
      cause,
    );
  parser.on('opentag', ({ name, attributes }) => {
    const element = { name: localName(name), attributes, children: [], text: '' };
    open[open.length - 1].children.push(element);
    open.push(element);
    if (open.length > deepest) throw fail(`it is nested more than ${deepest} deep`);
  });
  const addText = (part: string): void => {
    open[open.length - 1].text += part;
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('closetag', () => {
    open.pop();
  });
  parser.on('error', (error) => {
    throw fail(error.message.replace(/^\d+:\d+: /, '').replace(/\.$/, ''), error);
  });
  parser.write(text.replace(/^\uFEFF/, '')).close();
  return top.children[0];
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** The first child of a name. */
export function childOf(element: XmlElement, name: string): XmlElement | undefined {
  return element.children.find((child) => child.name === name);
}

/** The text of the first child of a name; empty where there is none. */
export function childText(element: XmlElement, name: string): string {
  return childOf(element, name)?.text.trim() ?? '';
}
