/** The key of the map's signs, drawn by what draws them on the map. */
import { drawEllipse, drawMark, fit, inks, onInks, type Inks } from './marks';
import type { Target } from './survey';

const width = 60, height = 34;

type Sign = [words: string, draw: (c: CanvasRenderingContext2D, ink: Inks) => void];

const target = (probability: number, verdict = '', chosen = false): Sign[1] => (c, ink) => drawMark(c, width / 2, height / 2, { probability, verdict } as Target, ink, chosen);
const ellipse = (a: number, b: number, dash: number[], heavy: number): Sign[1] => (c, ink) => drawEllipse(c, [width / 2, height / 2], a, b, 70, dash, heavy * ink.bold, ink);

const signs: Sign[] = [
  ['A target, filled up to its probability: 0.9', target(0.9)], ['0.5', target(0.5)], ['0.1', target(0.1)],
  ['Chosen', target(0.9, '', true)],
  ['Accepted by a person', target(0.9, 'accepted')], ['In doubt', target(0.9, 'in doubt')], ['Rejected', target(0.9, 'rejected')],
  ['Where it may lie: one sigma, at true size', ellipse(22, 8, [], 1)],
  ['Its size where resolved, at true size', ellipse(22, 8, [], 2)],
  ['Or else here: the same echo could come from there', ellipse(9, 9, [3, 3], 1)],
];

const grounds: [string, string][] = [['⁄⁄⁄', 'Not surveyed'], ['∷∷∷', 'Surveyed, but a hard ball could not have been seen'], ['', 'Plain: one could have been seen']];

export function signKey(list: HTMLElement): void {
  const draws: ((ink: Inks) => void)[] = [];
  list.replaceChildren(...signs.map(([words, draw]) => {
    const canvas = document.createElement('canvas');
    canvas.setAttribute('aria-hidden', 'true');
    draws.push(ink => draw(fit(canvas, width, height), ink));
    return row(canvas, words);
  }), ...grounds.map(([sign, words]) => {
    const span = document.createElement('span');
    span.setAttribute('aria-hidden', 'true');
    span.textContent = sign;
    return row(span, words);
  }));
  const drawAll = (ink: Inks) => { for (const draw of draws) draw(ink); };
  drawAll(inks());
  onInks(drawAll);
}

function row(sign: HTMLElement, words: string): HTMLElement {
  const item = document.createElement('li');
  item.append(sign, ` ${words}`);
  return item;
}
