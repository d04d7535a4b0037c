/** Finds commands, targets, lines and places by a few letters; Enter does or goes there. */
export interface Findable { words: string; more: string; act: () => void }

export class Palette {
  private readonly dialog = document.getElementById('palette') as HTMLDialogElement;
  private readonly input = document.getElementById('palette-words') as HTMLInputElement;
  private readonly list = document.getElementById('palette-list')!;
  private found: Findable[] = [];
  private at = 0;

  constructor(private readonly all: () => Findable[], private readonly place: (words: string) => Findable | null) {
    this.input.addEventListener('input', () => this.find());
    this.input.addEventListener('keydown', e => {
      if (e.key === 'ArrowDown' || e.key === 'ArrowUp') { this.at = Math.min(Math.max(this.at + (e.key === 'ArrowDown' ? 1 : -1), 0), this.found.length - 1); this.show(); }
      else if (e.key === 'Enter') this.take(this.at);
      else return;
      e.preventDefault();
    });
    this.list.addEventListener('click', e => {
      const item = e.target instanceof Element ? e.target.closest('li') : null;
      if (item) this.take([...this.list.children].indexOf(item));
    });
  }

  open(): void {
    this.input.value = '';
    this.find();
    this.dialog.showModal();
    this.input.focus();
  }

  private find(): void {
    const words = this.input.value.trim().toLowerCase(), parts = words.split(/\s+/), place = this.place(words);
    this.found = [...place ? [place] : [], ...this.all().filter(f => parts.every(p => `${f.words} ${f.more}`.toLowerCase().includes(p)))].slice(0, 40);
    this.at = 0;
    this.show();
  }

  private show(): void {
    this.list.replaceChildren(...this.found.map((f, i) => {
      const item = document.createElement('li'), words = document.createElement('span'), more = document.createElement('span');
      item.id = `found-${i}`;
      item.setAttribute('role', 'option');
      item.setAttribute('aria-selected', String(i === this.at));
      words.textContent = f.words;
      more.textContent = f.more;
      item.append(words, more);
      return item;
    }));
    if (this.found.length) this.input.setAttribute('aria-activedescendant', `found-${this.at}`); else this.input.removeAttribute('aria-activedescendant');
    this.list.children[this.at]?.scrollIntoView({ block: 'nearest' });
  }

  private take(i: number): void {
    const found = this.found[i];
    this.dialog.close();
    found?.act();
  }
}
