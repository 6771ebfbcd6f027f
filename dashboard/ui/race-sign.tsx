// The sign of a window that is lost: the upper bar, the window, has ended; the lower one, the film, arrives behind it.
export function RaceSign() {
  return (
    <svg className="race-sign" viewBox="0 0 24 18" width="24" height="18" aria-hidden="true" focusable="false">
      <path d="M1 5h9M1 13h21" stroke="currentColor" strokeWidth="4.5" />
      <path d="M13 0v18" stroke="currentColor" strokeWidth="2" strokeDasharray="3 2.4" />
    </svg>
  );
}
