// The way from page to page; a page that is added adds its line here.

const PAGES = [
  ["/", "Rehearse"],
  ["/review", "Review"],
  ["/plan", "Plan"],
  ["/stage", "Stage"],
  ["/check", "Check"],
];

const bar = document.getElementById("bar");
bar.append(...PAGES.map(([path, name]) => {
  const link = document.createElement("a");
  link.href = path;
  link.textContent = name;
  if (path === location.pathname) link.setAttribute("aria-current", "page");
  return link;
}));
bar.hidden = PAGES.length < 2;
