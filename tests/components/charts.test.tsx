import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { SurvivalDrawing } from '@/components/charts/survival-figure';
import { SurvivalFigureBlock } from '@/components/charts/survival-figure-block';
import { randomCohort, shortCohort } from '../analysis/outcomes-cohort';
import { answer } from '../analysis/outcomes-place';

const { view } = answer(randomCohort(21, 700), { by: 'derived-strategy' });
const { figure } = view;
const markup = renderToStaticMarkup(<SurvivalFigureBlock figure={figure} idPrefix="freedom" />);
const textOf = (html: string) =>
  html
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll('&amp;', '&')
    .replaceAll('&gt;', '>');

function drawing(linked: boolean): string {
  if (!figure.drawings) throw new Error('nothing drawn');
  return renderToStaticMarkup(
    <SurvivalDrawing
      drawing={figure.drawings.wide}
      idPrefix="x"
      title={figure.title}
      sentence={figure.sentence}
      linked={linked}
    />,
  );
}

describe('the survival figure', () => {
  it('is one path and one band per series, each with colour, dash and name', () => {
    const svg = drawing(true);
    // Each line is drawn once as a curve and once as the sample before its name.
    expect(svg.match(/<path[^>]*stroke-dasharray/g)).toHaveLength(10);
    expect(svg.match(/<path[^>]*opacity/g)).toHaveLength(5);
    for (const slot of ['a', 'b', 'c', 'd', 'e']) {
      expect(svg).toContain(`stroke="var(--series-${slot}, `);
      expect(svg).toContain(`stroke-dasharray="var(--dash-${slot}, `);
    }
    for (const { label } of view.groups.slice(0, 5)) expect(textOf(svg)).toContain(label);
  });

  it('has a name and says its numbers in one sentence to who does not see it', () => {
    expect(drawing(true)).toContain(`<desc id="x-sentence">${figure.sentence}</desc>`);
    expect(drawing(true)).toMatch(/role="img" aria-labelledby="x-title" aria-describedby="x-sentence"/);
  });

  it('has no link inside the picture, and none reached by the keyboard twice: the table holds them all', () => {
    const svg = drawing(true);
    const picture = svg.slice(svg.indexOf('role="img"'), svg.indexOf('</svg>'));
    expect(picture).not.toContain('<a ');
    const links = [...svg.matchAll(/<a href="([^"]*)" tabindex="-1"/g)].map(([, href]) => href);
    expect(links).toHaveLength(svg.split('<a ').length - 1);
    const table = markup.slice(markup.indexOf('<details'));
    for (const href of links) expect(table).toContain(`href="${href}"`);
  });

  it('travels without links and with colours of its own', () => {
    expect(drawing(false)).not.toContain('<a ');
    expect(drawing(false)).toContain('#0072b2');
    expect(textOf(drawing(false))).toBe(textOf(drawing(true)));
  });

  it('stands twice on the page without two ids alike', () => {
    const ids = [...markup.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toContain('freedom-wide-title');
    expect(ids).toContain('freedom-narrow-title');
  });

  it('carries caption, sentence and a table with the same data', () => {
    for (const line of [...figure.caption, figure.sentence]) expect(textOf(markup)).toContain(line);
    expect(markup.match(/<tr/g)).toHaveLength(figure.table.length + 1);
    const cells = [...markup.matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(([, cell]) => textOf(cell).split(',')[0]);
    const [row] = figure.table;
    expect(cells[0]).toBe(row?.day);
    expect(cells[1]).toBe(row?.counts[0]?.text);
  });

  it('says why there is no drawing when too few were at risk', () => {
    const few = answer(shortCohort([{ clean: [300] }])).view.figure;
    const html = renderToStaticMarkup(<SurvivalFigureBlock figure={few} idPrefix="f" />);
    expect(html).not.toContain('<svg');
    expect(textOf(html)).toContain('fewer than 10 are at risk');
  });
});
