// The panel of the card: puts in what the extension sends, marks where the cursor is, and says what was pressed.
(() => {
  const program = acquireVsCodeApi();
  const part = name => document.getElementById(name);
  const tabs = ['card', 'ways'];
  let tab = 'card', here = {}, words = {};

  /// Shows one of both; the other stays as it is.
  const turn = to => {
    tab = to;
    for (const name of tabs) {
      part(name).hidden = name !== tab;
      part('tab-' + name).setAttribute('aria-selected', String(name === tab));
      part('tab-' + name).tabIndex = name === tab ? 0 : -1;
    }
  };

  /// Puts a piece in where it is another one than before, so that nothing flickers and nothing jumps.
  const put = (name, html) => {
    if (html === null || words[name] === html) return false;
    const open = part(name).querySelector('details')?.open;
    words[name] = html;
    part(name).innerHTML = html;
    if (open) part(name).querySelector('details').open = true;
    for (const one of part(name).querySelectorAll('section[data-node], li[data-node], header[data-node]')) one.title = 'Go to this in the source';
    return true;
  };

  /// Marks the place of the cursor, and brings it into view where it is another one.
  const mark = (name, node, fresh) => {
    const moved = here[name] !== node;
    here[name] = node;
    if (!moved && !fresh) return;
    part(name).querySelectorAll('.here').forEach(one => one.classList.remove('here'));
    if (node === null) return;
    const found = part(name).querySelector(`[data-node="${node}"]`);
    if (!found) return;
    found.classList.add('here');
    found.setAttribute('aria-current', 'location');
    if (moved && name === tab) show(found);
  };

  const show = found => {
    const box = found.getBoundingClientRect(), bar = part('bar').offsetHeight;
    if (box.top >= bar && box.bottom <= innerHeight) return;
    const room = innerHeight - bar;
    const top = box.height > room * 0.7 ? box.top - bar - 20 : box.top - bar - (room - box.height) / 3;
    scrollBy({ top });
  };

  const choice = (label, values, chosen, all, changed) => {
    const outer = document.createElement('label'), select = document.createElement('select');
    outer.append(label + ' ', select);
    if (all) select.add(new Option(all, '', false, chosen === null));
    for (const value of values) select.add(new Option(value.replace(/-/g, ' '), value, false, value === chosen));
    select.onchange = () => changed(select.value);
    return outer;
  };

  let offered = '';
  const choices = page => {
    const now = JSON.stringify([page.procedure, page.procedures.map(one => one.name), page.variants]);
    if (now === offered) return;
    offered = now;
    const all = [];
    if (page.procedures.length > 1) {
      all.push(choice('Procedure', page.procedures.map(one => one.name), page.procedure, '', name => program.postMessage({ kind: 'procedure', name })));
    }
    for (const { name, values, chosen } of page.variants) {
      all.push(choice(name.replace(/-/g, ' '), values, chosen, 'all', value => program.postMessage({ kind: 'variant', name, value })));
    }
    part('choices').replaceChildren(...all);
  };

  const says = {
    errors: 'An error is open: this card cannot be carried out.',
    partly: 'Lines that cannot be read are left out: this card cannot be carried out.',
    unreadable: 'Nothing of this procedure can be read just now.',
  };
  /// The most mistakes that are listed: the card needs the room.
  const most = 3;
  const banner = (page, earlier) => {
    const banner = part('banner');
    banner.hidden = page.state === 'whole';
    const lead = document.createElement('strong');
    lead.textContent = `! ${says[page.state] ?? ''}${earlier ? ' This is the card as it was before.' : ''}`;
    const more = page.troubles.length - most;
    const lines = page.troubles.slice(0, most).map(({ line, words }) => {
      const one = document.createElement(line === null ? 'span' : 'button');
      one.textContent = line === null ? words : `Line ${line + 1}: ${words}`;
      if (line !== null) one.onclick = () => program.postMessage({ kind: 'line', line });
      const item = document.createElement('div');
      item.append(one);
      return item;
    });
    banner.replaceChildren(lead, ...lines, ...(more > 0 ? [`and ${more} more`] : []));
  };

  addEventListener('message', ({ data }) => {
    if (data.kind === 'words') {
      part('bar').hidden = false;
      part('banner').hidden = false;
      part('banner').textContent = data.words;
      return;
    }
    const { page, shown, earlier } = data;
    program.setState(shown);
    part('bar').hidden = false;
    if (shown.tab !== tab) turn(shown.tab);
    choices(page);
    banner(page, earlier);
    const fresh = { card: put('card', page.card), ways: put('ways', page.ways) };
    mark('card', page.here, fresh.card);
    mark('ways', page.hereInWays, fresh.ways);
  });

  for (const name of tabs) {
    part('tab-' + name).onclick = () => {
      turn(name);
      program.postMessage({ kind: 'tab', tab: name });
      program.setState({ ...program.getState(), tab: name });
      const found = part(name).querySelector('.here');
      if (found) show(found);
    };
    part('tab-' + name).onkeydown = event => {
      if (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return;
      const other = part('tab-' + tabs[1 - tabs.indexOf(name)]);
      other.focus();
      other.click();
    };
  }

  const go = target => {
    const node = target.closest('[data-node]')?.dataset.node;
    if (node !== undefined) program.postMessage({ kind: 'go', node: Number(node) });
  };
  document.addEventListener('click', event => {
    const link = event.target.closest('a');
    if (link) {
      event.preventDefault();
      const found = part(tab).querySelector(`[data-node="${link.hash.slice(2)}"]`);
      if (found) show(found);
    } else if (!event.target.closest('.bar, #banner, summary') && getSelection().isCollapsed) {
      go(event.target);
    }
  });
  document.addEventListener('keydown', event => {
    if (event.key === 'Enter' && event.target.matches('[data-node]')) go(event.target);
  });

  turn((program.getState() ?? {}).tab === 'ways' ? 'ways' : 'card');
  program.postMessage({ kind: 'ready' });
})();
