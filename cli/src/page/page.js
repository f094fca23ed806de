// Ticks that last, what is now and next, and how long until then. Without it the page is whole.
(() => {
  const first = document.querySelector('.jobs time[datetime]');
  const shelf = `run sheets: ${document.title}, ${first ? first.dateTime : ''}`;
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(shelf)) || {}; } catch { /* Nothing is kept where that is not allowed. */ }
  const jobs = [...document.querySelectorAll('.jobs > li')].map((item) => {
    const time = item.querySelector('time');
    const when = document.createElement('span');
    when.className = 'when';
    item.querySelector('.what').append(when);
    return { item, when, box: item.querySelector('input'), at: time.dateTime ? Date.parse(time.dateTime) : NaN };
  });
  const HOUR = 3600000;
  const show = () => {
    const now = Date.now();
    for (const sheet of document.querySelectorAll('.jobs')) {
      let next = false;
      for (const { item, when, box, at } of jobs.filter((job) => job.item.parentElement === sheet)) {
        const far = Number.isNaN(at) || Math.abs(at - now) > 12 * HOUR;
        let state = '';
        if (!box.checked && !far && now >= at) state = 'now';
        else if (!box.checked && !far && !next) { state = 'next'; next = true; }
        else if (!box.checked && !far) state = 'later';
        item.dataset.when = state;
        const minutes = Math.ceil((at - now) / 60000);
        const wait = 100 > minutes ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')}`;
        when.textContent = state === 'now' ? ' Now' : state === 'next' ? ` Next, in ${wait}` : '';
      }
    }
  };
  for (const { box } of jobs) {
    box.checked = kept[box.id] === true;
    box.addEventListener('change', () => {
      kept[box.id] = box.checked;
      try { localStorage.setItem(shelf, JSON.stringify(kept)); } catch { /* As above. */ }
      show();
    });
  }
  show();
  setInterval(show, 15000);
})();
