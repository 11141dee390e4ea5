import { describe, expect, it } from 'vitest';
import { dispositionOf, plainName } from './file-name.js';

describe('the name of a file (FI-2)', () => {
  it.each<[string, string | undefined, string]>([
    ['stays as it is', 'Certificate LW-1.pdf', 'Certificate LW-1.pdf'],
    ['loses a path', '../../etc/passwd', 'passwd'],
    ['loses a path of the other kind', 'C:\\scans\\report.pdf', 'report.pdf'],
    ['loses what cannot be seen', 'in\u202evoice\u0000\r\n.pdf', 'invoice.pdf'],
    ['keeps other scripts', 'Prüfbericht Ω 🔩.pdf', 'Prüfbericht Ω 🔩.pdf'],
    ['is made up when there is none', undefined, 'file.pdf'],
    ['is made up when nothing is left', 'scans/', 'file.pdf'],
    ['is made up for a step upwards', '..', 'file.pdf'],
    ['is cut between characters', '🔩'.repeat(300), '🔩'.repeat(200)],
  ])('%s', (_name, given, name) => expect(plainName(given, 'application/pdf')).toBe(name));
});

describe('the header that names a file', () => {
  it('says the name twice, and lets nothing out of the quotes', () => {
    expect(dispositionOf('a "b"\\Ω%.pdf', 'application/pdf')).toBe(
      `inline; filename="a _b____.pdf"; filename*=UTF-8''a%20%22b%22%5C%CE%A9%25.pdf`,
    );
  });
  it("escapes what RFC 5987 allows in no name, as '()*", () => {
    expect(dispositionOf("it's (1)*.png", 'image/png')).toMatch(/UTF-8''it%27s%20%281%29%2A\.png$/);
  });
  it('has text saved, not shown', () => expect(dispositionOf('page.html', 'text/plain')).toMatch(/^attachment;/));
});
