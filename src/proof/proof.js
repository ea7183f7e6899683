// The proof page: what is shown, moved, measured and tried out. All lengths are millimetres unless named px.
'use strict';
(() => {
  const byId = (id) => document.getElementById(id);
  const all = (what, where = document) => [...where.querySelectorAll(what)];
  const root = document.documentElement;
  const job = JSON.parse(byId('looks').textContent);
  const stage = byId('stage');
  const views = all('.view');
  const SVG = 'http://www.w3.org/2000/svg';
  root.classList.add('js');

  const made = (name, attributes, into) => {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    into.append(element);
    return element;
  };
  // Kept between visits where the browser allows it for a file.
  const kept = (key, value) => {
    try {
      if (value === undefined) return localStorage.getItem(`decalwright-${key}`);
      localStorage.setItem(`decalwright-${key}`, value);
    } catch { /* a browser that keeps nothing still shows everything */ }
    return null;
  };

  // ---- Colour: the arithmetic of the program's own simulation, step for step. ----

  const channels = (hex) => [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
  const hex = (rgb) => '#' + rgb.map((channel) => channel.toString(16).padStart(2, '0')).join('');
  // IEC 61966-2-1, both ways.
  const linear = (channel) => {
    const value = channel / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  const coded = (light) => {
    const held = Math.min(1, Math.max(0, light));
    return Math.round(255 * (held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055));
  };
  const joined = (one, other, join) => {
    const [a, b] = [one, other].map((colour) => channels(colour).map(linear));
    return hex(a.map((light, at) => coded(join(light, b[at]))));
  };
  // Light passes ink twice: T (o + (1 - o) G).
  const over = (ink, opacity, ground) => joined(ink, ground, (t, g) => t * (opacity + (1 - opacity) * g));
  const mixed = (from, to, share) => joined(from, to, (a, b) => a + (b - a) * share);
  // WCAG 2.2, relative luminance and contrast ratio.
  const luminance = (colour) => {
    const [r, g, b] = channels(colour).map(linear);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one, other) => {
    const [a, b] = [luminance(one), luminance(other)];
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  };

  // ---- The state, and the sheet of style that shows it. ----

  const state = {
    view: null, surface: null, fitted: true, scale: 1, x: 0, y: 0, // px a millimetre, and the point at the stage's middle
    grounds: [...job.grounds], ink: job.ink_opacity, white: job.white_opacity,
    hidden: new Set(), layers: { white: true, cut: false, guides: true, pins: true },
    measuring: false, rule: null, hot: null,
    screen: Number(kept('screen')) || 100,
  };
  const sheet = new CSSStyleSheet();
  document.adoptedStyleSheets = [sheet];

  const seen = (look) => {
    const bare = look.film ? '#ffffff' : state.grounds[look.surface];
    const white = {
      none: bare,
      under: mixed(bare, over('#ffffff', state.white, bare), look.tint),
      backing: '#ffffff',
    }[look.white];
    return { bare, white };
  };

  const restyle = () => {
    const rules = [];
    const vars = [];
    for (const plate of state.hidden) vars.push(`--v${plate}:hidden`);
    if (!state.layers.white) vars.push('--white-shown:hidden');
    if (state.layers.cut) vars.push('--cut:visible');
    if (!state.layers.guides) vars.push('--guides:hidden');
    if (!state.layers.pins) vars.push('--pins:hidden');
    rules.push(`:root{${vars.join(';')}}`);
    job.looks.forEach((look, number) => {
      const { bare, white } = seen(look);
      const inks = (ground) => look.inks.map((ink) => `--p${ink}:${over(job.inks[ink], state.ink, ground)}`).join(';');
      rules.push(`.k${number}{--film:${bare};--white:${white};${inks(bare)}}`);
      rules.push(`.k${number}w{--white:${white};${inks(white)}}`);
    });
    state.grounds.forEach((ground, surface) => {
      rules.push(`.g${surface}{fill:${ground}}`);
      byId(`surface-${surface}`).classList.toggle('on-dark', luminance(ground) < 0.18);
    });
    sheet.replaceSync(rules.join('\n'));
  };

  const swatch = (colour, into) => {
    const picture = made('svg', { class: 'swatch', viewBox: '0 0 10 10', 'aria-hidden': 'true' }, into);
    made('rect', { width: 10, height: 10, fill: colour }, picture);
  };

  // Each ink on the surface shown, against what is bare beside it (or white, where white lies under it).
  const tabulate = () => {
    const body = byId('contrast').tBodies[0];
    const { surface } = state;
    let lowest = null;
    body.replaceChildren();
    job.looks.filter((look) => look.surface === surface).forEach((look) => {
      const { bare, white } = seen(look);
      const head = body.insertRow().appendChild(document.createElement('th'));
      head.colSpan = 3;
      head.scope = 'colgroup';
      head.textContent = look.name;
      for (const ink of look.inks) {
        const shown = over(job.inks[ink], state.ink, look.white === 'none' ? bare : white);
        const ratio = contrast(shown, bare);
        lowest = lowest === null ? ratio : Math.min(lowest, ratio);
        const row = body.insertRow();
        row.insertCell().textContent = job.inks[ink];
        const cell = row.insertCell();
        swatch(shown, cell);
        cell.append(shown);
        const said = row.insertCell();
        said.textContent = `${ratio.toFixed(2)} : 1`;
        said.classList.toggle('low', ratio < 3);
        if (ratio < 3) said.append(', low');
      }
    });
    byId('contrast-said').textContent = lowest === null
      ? 'No ink here.'
      : `The lowest is ${lowest.toFixed(2)} : 1. Under 3 : 1 is low for large signs, under 4.5 : 1 for small ones (WCAG 2.2).`;
  };

  const trial = () => {
    byId('ink-opacity-said').textContent = `${byId('ink-opacity').value} %`;
    byId('white-opacity-said').textContent = `${byId('white-opacity').value} %`;
    restyle();
    tabulate();
  };

  // ---- The view: moved and zoomed by its viewBox, so that every line stays sharp. ----

  const PX_A_MM = 96 / 25.4; // CSS Values 4, absolute lengths
  const trueScale = () => PX_A_MM * state.screen / 100;
  const drawing = () => state.view.querySelector('.drawing');
  const size = () => drawing().dataset.size.split(' ').map(Number);
  const box = () => drawing().getBoundingClientRect();

  const show = () => {
    const { width, height } = box();
    if (!width) return;
    const [w, h] = [width / state.scale, height / state.scale];
    drawing().setAttribute('viewBox', [state.x - w / 2, state.y - h / 2, w, h].map((v) => v.toFixed(4)).join(' '));
    root.style.setProperty('--u', 1 / state.scale);
    byId('zoom').textContent = `${Math.round(100 * state.scale / trueScale())} %`;
    // The longest of 1, 2 and 5 and their tens that fits.
    const fits = 160 / state.scale;
    const ten = 10 ** Math.floor(Math.log10(fits));
    const length = [5, 2, 1].map((step) => step * ten).find((step) => step <= fits);
    byId('scale-bar').style.width = `${length * state.scale}px`;
    byId('scale-text').textContent = `${Number(length.toPrecision(1))} mm`;
    drawRule();
  };
  const fit = () => {
    const [w, h] = size();
    const { width, height } = box();
    const label = state.view.querySelector('figcaption').offsetHeight + 24; // px kept free for it, and below
    state.scale = Math.min(0.95 * width / w, Math.max(height - 2 * label, height / 2) / h);
    [state.x, state.y] = [w / 2, h / 2];
    state.fitted = true;
    show();
  };
  const pointAt = ({ clientX, clientY }) => {
    const { left, top, width, height } = box();
    return [state.x + (clientX - left - width / 2) / state.scale, state.y + (clientY - top - height / 2) / state.scale];
  };
  // Zooms, and keeps a point of the drawing where it is on the screen.
  const zoom = (factor, [x, y] = [state.x, state.y]) => {
    const scale = Math.min(4000, Math.max(0.05, state.scale * factor));
    const kept = state.scale / scale;
    [state.x, state.y, state.scale] = [x + (state.x - x) * kept, y + (state.y - y) * kept, scale];
    state.fitted = false;
    show();
  };
  const trueSize = () => zoom(trueScale() / state.scale);
  const move = (dx, dy) => {
    state.x += dx;
    state.y += dy;
    state.fitted = false;
    show();
  };

  const look = (id) => {
    state.view = byId(id);
    for (const view of views) view.classList.toggle('shown', view === state.view);
    for (const choice of all('[name="view"]')) choice.checked = choice.value === id;
    const isSurface = state.view.dataset.kind === 'surface';
    state.surface = isSurface ? Number(state.view.dataset.index) : null;
    for (const input of all('#ground, #as-in-job, #paint input')) input.disabled = !isSurface;
    if (isSurface) byId('ground').value = state.grounds[state.surface];
    state.rule = null;
    say('');
    all('.glow').forEach((glow) => glow.remove());
    trial();
    fit();
  };

  // ---- Measuring. ----

  const say = (text) => { byId('measured').textContent = text; };
  const drawRule = () => {
    all('.rule').forEach((rule) => rule.remove());
    if (!state.rule) return;
    const [[ax, ay], [bx, by]] = state.rule;
    const arm = 8 / state.scale;
    const cross = (x, y) => `M${x - arm} ${y}h${2 * arm}M${x} ${y - arm}v${2 * arm}`;
    const rule = made('g', { class: 'rule', 'aria-hidden': 'true' }, drawing());
    const d = `M${ax} ${ay}L${bx} ${by}${cross(ax, ay)}${cross(bx, by)}`;
    made('path', { d }, rule);
    made('path', { d }, rule);
  };
  const measured = () => {
    drawRule();
    const [[ax, ay], [bx, by]] = state.rule;
    const [dx, dy] = [bx - ax, by - ay];
    const mm = (value) => Math.abs(value).toFixed(2);
    say(`${Math.hypot(dx, dy).toFixed(2)} mm: ${mm(dx)} across, ${mm(dy)} down`);
    [['from-x', ax], ['from-y', ay], ['to-x', bx], ['to-y', by]].forEach(([id, value]) => {
      if (document.activeElement !== byId(id)) byId(id).value = value.toFixed(2);
    });
  };
  const measure = (on) => {
    state.measuring = on;
    byId('measure').setAttribute('aria-pressed', on);
    stage.classList.toggle('measuring', on);
    if (on && !state.rule) {
      state.rule = [[state.x, state.y], [state.x, state.y]];
      measured();
    } else if (!on) {
      state.rule = null;
      say('');
      drawRule();
    }
  };
  const byNumbers = () => {
    const value = (id) => Number(byId(id).value) || 0;
    state.rule = [[value('from-x'), value('from-y')], [value('to-x'), value('to-y')]];
    measured();
  };

  // ---- Hand: one pointer moves or measures, two zoom. ----

  const held = new Map();
  let pressed = null;
  stage.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    pressed = event;
    stage.setPointerCapture(event.pointerId);
    held.set(event.pointerId, event);
    if (state.measuring) {
      state.rule = [pointAt(event), pointAt(event)];
      measured();
    }
  });
  stage.addEventListener('pointermove', (event) => {
    const [x, y] = pointAt(event);
    byId('where').textContent = `${x.toFixed(2)} across, ${y.toFixed(2)} down`;
    const before = held.get(event.pointerId);
    if (!before) return;
    held.set(event.pointerId, event);
    if (held.size === 2) {
      const [other] = [...held.values()].filter((one) => one !== event);
      const apart = (one) => Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
      return zoom(apart(event) / Math.max(1, apart(before)), pointAt(other));
    }
    if (state.measuring) {
      state.rule[1] = [x, y];
      return measured();
    }
    move((before.clientX - event.clientX) / state.scale, (before.clientY - event.clientY) / state.scale);
  });
  for (const end of ['pointerup', 'pointercancel']) {
    stage.addEventListener(end, (event) => held.delete(event.pointerId));
  }
  // A press that does not move is a click: on a mark it leads to its finding.
  stage.addEventListener('pointerup', (event) => {
    const pin = pressed && pressed.target.closest('.pin');
    const moved = pressed && Math.hypot(event.clientX - pressed.clientX, event.clientY - pressed.clientY);
    if (pin && moved < 4 && !state.measuring) toFinding(pin.dataset.finding);
  });
  stage.addEventListener('wheel', (event) => {
    event.preventDefault();
    zoom(1.0016 ** -Math.max(-300, Math.min(300, event.deltaY * (event.deltaMode ? 20 : 1))), pointAt(event));
  }, { passive: false });

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const KEYS = {
    '+': () => zoom(1.25), '=': () => zoom(1.25), '-': () => zoom(0.8), 0: fit, 1: trueSize,
    m: () => measure(!state.measuring), Escape: () => measure(false),
    Enter: () => {
      if (!state.measuring) return;
      state.rule = [[...state.rule[1]], [...state.rule[1]]];
      measured();
    },
  };
  stage.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey) return;
    const arrow = ARROWS[event.key];
    if (arrow && state.measuring) {
      const step = event.altKey ? 0.01 : event.shiftKey ? 1 : 0.1;
      state.rule[1] = state.rule[1].map((value, at) => value + arrow[at] * step);
      measured();
    } else if (arrow) {
      move(arrow[0] * 60 / state.scale, arrow[1] * 60 / state.scale);
    } else if (KEYS[event.key]) {
      KEYS[event.key]();
    } else {
      return;
    }
    event.preventDefault();
  });

  // ---- Findings. ----

  const heat = (finding, on) => {
    for (const one of all(`[data-finding="${finding}"]`)) one.classList.toggle('hot', on);
  };
  const toFinding = (finding) => {
    const item = document.querySelector(`.findings [data-finding="${finding}"]`);
    item.scrollIntoView({ block: 'nearest' });
    const button = item.querySelector('button');
    if (button) button.focus();
  };
  // Brings a finding's label, and its spot where it has one, into the middle.
  const goTo = (item) => {
    const { design } = item.querySelector('button').dataset;
    const holds = (view) => view.querySelector(`.label[data-design="${design}"]`);
    const view = holds(state.view) ? state.view : views.find(holds);
    if (!view) return;
    if (view !== state.view) look(view.id);
    const label = holds(view);
    const by = label.transform.baseVal.consolidate().matrix;
    const place = (x, y) => [by.a * x + by.c * y + by.e, by.b * x + by.d * y + by.f];
    const [x, y, w, h] = label.dataset.box.split(' ').map(Number);
    const pin = state.view.querySelector(`.pin[data-finding="${item.dataset.finding}"]`);
    const spot = pin && pin.hasAttribute('data-spot') && pin.transform.baseVal.consolidate().matrix;
    [state.x, state.y] = spot ? [spot.e, spot.f] : place(x + w / 2, y + h / 2);
    const { width, height } = box();
    // A label whole, or of a large one what is round the spot.
    const extent = Math.max(4, Math.min(Math.max(w, h), spot ? 40 : Infinity));
    state.scale = Math.min(0.6 * Math.min(width, height) / extent, 60);
    all('.glow').forEach((glow) => glow.remove());
    for (const layer of ['glow under', 'glow']) made('rect', { class: layer, x, y, width: w, height: h }, label);
    state.fitted = false;
    show();
    all('.hot').forEach((one) => one.classList.remove('hot'));
    heat(item.dataset.finding, true);
  };
  const list = () => {
    const shown = new Set(all('[data-severity]').filter((box) => box.checked).map((box) => box.dataset.severity));
    const items = all('.findings li');
    const hides = (one) => ![...shown].some((severity) => one.classList.contains(severity));
    for (const one of [...items, ...all('.pin')]) one.classList.toggle('off', hides(one));
    const left = items.filter((one) => !hides(one)).length;
    byId('listed').textContent = items.length ? `${left} of ${items.length} listed` : '';
  };
  const findings = document.querySelector('.findings');
  if (findings) {
    const itemOf = (event) => event.target.closest('li');
    findings.addEventListener('click', (event) => {
      if (event.target.closest('button')) goTo(itemOf(event));
    });
    for (const [kind, on] of [['mouseover', true], ['mouseout', false], ['focusin', true], ['focusout', false]]) {
      findings.addEventListener(kind, (event) => itemOf(event) && heat(itemOf(event).dataset.finding, on));
    }
  }
  for (const [kind, on] of [['mouseover', true], ['mouseout', false]]) {
    stage.addEventListener(kind, (event) => {
      const pin = event.target.closest('.pin');
      if (pin) heat(pin.dataset.finding, on);
    });
  }

  // ---- Controls. ----

  const on = (id, kind, act) => byId(id).addEventListener(kind, act);
  on('zoom-in', 'click', () => zoom(1.25));
  on('zoom-out', 'click', () => zoom(0.8));
  on('fit', 'click', fit);
  on('true-size', 'click', trueSize);
  on('measure', 'click', () => measure(!state.measuring));
  for (const id of ['from-x', 'from-y', 'to-x', 'to-y']) on(id, 'input', byNumbers);
  for (const choice of all('[name="view"]')) choice.addEventListener('change', () => look(choice.value));
  for (const plate of all('[data-plate]')) {
    plate.addEventListener('change', () => {
      state.hidden[plate.checked ? 'delete' : 'add'](plate.dataset.plate);
      restyle();
    });
  }
  for (const layer of all('[data-layer]')) {
    layer.addEventListener('change', () => {
      state.layers[layer.dataset.layer] = layer.checked;
      restyle();
    });
  }
  for (const severity of all('[data-severity]')) severity.addEventListener('change', list);
  on('ground', 'input', (event) => {
    state.grounds[state.surface] = event.target.value;
    trial();
  });
  on('ink-opacity', 'input', (event) => {
    state.ink = event.target.value / 100;
    trial();
  });
  on('white-opacity', 'input', (event) => {
    state.white = event.target.value / 100;
    trial();
  });
  on('as-in-job', 'click', () => {
    [state.grounds, state.ink, state.white] = [[...job.grounds], job.ink_opacity, job.white_opacity];
    byId('ground').value = state.grounds[state.surface];
    byId('ink-opacity').value = 100 * state.ink;
    byId('white-opacity').value = 100 * state.white;
    trial();
  });
  const calibrate = () => {
    byId('ruler').style.width = `${50 * trueScale()}px`;
    byId('screen-said').textContent = `${state.screen.toFixed(1)} %`;
    byId('zoom').textContent = `${Math.round(100 * state.scale / trueScale())} %`;
  };
  byId('screen').value = state.screen;
  on('screen', 'input', (event) => {
    state.screen = Number(event.target.value);
    kept('screen', state.screen);
    calibrate();
  });
  const paper = (theme) => {
    root.dataset.theme = theme;
    byId('theme').value = theme;
  };
  paper(kept('theme') || '');
  on('theme', 'change', (event) => {
    paper(event.target.value);
    kept('theme', event.target.value);
  });
  // On paper every drawing is shown whole.
  window.addEventListener('beforeprint', () => {
    for (const view of all('.drawing')) view.setAttribute('viewBox', `0 0 ${view.dataset.size}`);
    root.style.setProperty('--u', 1 / PX_A_MM);
  });
  window.addEventListener('afterprint', show);
  new ResizeObserver(() => (state.fitted ? fit() : show())).observe(stage);

  look(views[0].id);
  list();
  calibrate();
})();
