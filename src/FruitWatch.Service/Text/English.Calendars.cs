using FruitWatch.Model.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Private calendar feeds: their page, and what stands in them.</summary>
internal sealed partial class English
{
    public override string CalendarsLink => "Calendars";

    public override string CalendarsTitle => "Your calendars";

    public override string CalendarsLead =>
        "Tasks, windows for pins and harvest, frost and heat, in the calendar program that you use anyway: in your language, and of the beds that you may see.";

    public override string CalendarsPlan => "The calendar is a plan, the mail is the alarm: some programs read it once a day.";

    public override string CalendarsMade(string name) => $"The calendar “{name}” is made.";

    public override string CalendarsOnce =>
        "Its address is shown here once: copy it, or let the phone scan the code. Whoever has it reads what you may read of these beds; nothing can be changed with it.";

    public override string CalendarsOpen => "Open it in the calendar program of this device";

    public override string CalendarsQr(string name) => $"QR code of the calendar {name}";

    public override string CalendarsHow => "How to add it";

    public override string CalendarsYours => "Calendars that you have";

    public override string CalendarsNone => "There is none yet.";

    public override string CalendarsShows(string? site) => site is null ? "all sites that you are told about" : $"only {site}";

    public override string CalendarsSiteGone => "a site that you no longer see: empty";

    public override string CalendarsRead(LocalDate? day) => day is { } last ? $"last read {ShortDate(last)}" : "never read";

    public override string CalendarsRevoke => "Take back";

    public override string CalendarsRevokeNamed(string name) => $"Take back “{name}”";

    public override string CalendarsRevokeMeans =>
        "Its address opens nothing any more, in whatever program it was added. Entries that a program keeps go when the calendar is removed there. This cannot be undone.";

    public override string CalendarsRevoked => "The calendar was taken back: its address opens nothing any more.";

    public override string CalendarsNew => "A new calendar";

    public override string CalendarsName => "What to call it";

    public override string CalendarsNameHint => "Such as: phone. One for each program, so that each can be taken back alone.";

    public override string CalendarsSites => "What it shows";

    public override string CalendarsAll => "All sites that you are told about";

    public override string CalendarsTold(string sites) => sites.Length == 0 ? "You are told about no site at present." : $"You are told about {sites}.";

    public override string CalendarsOnly(string site) => $"Only {site}";

    public override string CalendarsMake => "Make the calendar";

    public override string CalendarsTooMany(int most) => $"You have {most} calendars. Take one back first.";

    public override string CalendarsUnknown => "There is no calendar at this address.";

    public override string CalendarsTooOften => "Read too often. Wait as long as Retry-After says.";

    public override string CalendarsNamed(string? site) => site is null ? "FruitWatch" : $"FruitWatch: {site}";

    public override IReadOnlyList<string> CalendarsSteps =>
    [
        "Copy the address.",
        "In the calendar program look for adding a calendar by its address: it is called something like “subscribe”, “from the internet”, “by link” or “by URL”. Not “import”: what is imported stays as it is today.",
        "Paste the address and confirm. If the program asks how often to look, choose the shortest; if it asks about reminders, none are in it.",
        "A program on the web may take some hours until the first entries show.",
    ];

    public override string CalendarsSummary(string place, string headline, NoticeState state) => $"{place} · {headline}{state switch
    {
        NoticeState.Open => "",
        NoticeState.Done => " (done)",
        NoticeState.Withdrawn => " (no longer needed)",
        _ => " (over)",
    }}";

    public override string CalendarsWhen(NoticeDraft notice, (LocalDate First, LocalDate Last) days) => notice switch
    {
        { Kind: NoticeKind.HoldWater } => $"Until {Date(notice.Deadline)}.",
        { NeedsEatingCaution: true } => days.First == days.Last ? $"Look on {Date(days.First)}." : $"Look every day from {Date(days.First)} to {Date(days.Last)}.",
        // What is done by the evening before stands on its day all the same.
        _ when notice.Deadline < days.First => $"Act by the evening of {Date(notice.Deadline)}.",
        _ => $"By {Date(notice.Deadline)}.",
    };
}
