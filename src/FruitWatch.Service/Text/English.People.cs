using System.Globalization;
using FruitWatch.Service.People;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string NameOf(Role role) => role switch
    {
        Role.Coordinator => "Coordinator",
        Role.Grower => "Grower",
        Role.FarmHand => "Farm hand",
        _ => "Viewer",
    };

    public override string RoleSaid(Role role, bool growersReadAll) => role switch
    {
        Role.Coordinator => "Answers for the cooperative: sites, beds, feeds and members.",
        Role.Grower when growersReadAll => "Looks after own beds, and reads those of the others.",
        Role.Grower => "Looks after own beds, and sees no others.",
        Role.FarmHand => "Works at the sites that they are told about: today's lists and the logs.",
        _ => "Reads everything, and changes nothing.",
    };

    public override string NameOf(Units units) => units == Units.Metric ? "°C, mm, litres" : "°F, inches, gallons";

    public override string PeopleRefused(MemberRefusal why) => why switch
    {
        MemberRefusal.OwnRole => "Nobody changes their own role. Ask another coordinator.",
        MemberRefusal.LastCoordinator => "Somebody has to answer for the cooperative: make another member who can sign in coordinator first.",
        MemberRefusal.HasAccepted => "They have accepted an invitation before, and can sign in.",
        MemberRefusal.NoAddress => "There is no address to send an invitation to.",
        MemberRefusal.NotAccepted => "They have not accepted the invitation yet, and become active by it.",
        MemberRefusal.NoFarmHand => "Personal links are for farm hands. Others sign in.",
        MemberRefusal.NotActive => "They are not let in at present: make them active first.",
        MemberRefusal.AddressTaken => PeopleAddressTaken,
        _ => "Too many invitations were sent within an hour. Try again later.",
    };

    public override string PeopleSees(IReadOnlyList<string> sites, int beds) =>
        (sites.Count == 0 ? "Told about no site" : $"Told about {string.Join(", ", sites)}")
        + beds switch { 0 => ".", 1 => "; one bed of their own.", _ => $"; {Number(beds)} beds of their own." };

    public override string PeopleTitle => "Members";

    public override string PeopleLead => "Who belongs to the cooperative, and what each of them sees.";

    public override string PeopleInvite => "Invite somebody";

    public override string PeopleInviteLead => "They get a mail with a link. Until they accept, nothing else is sent to the address.";

    public override string PeopleName => "Name";

    public override string PeopleEmail => "E-mail address";

    public override string PeopleEmailHint => "A farm hand may have none, and work from a personal link alone.";

    public override string PeopleRole => "Role";

    public override string PeopleOwnRole => "Nobody changes their own role: ask another coordinator.";

    public override string PeopleLanguage => "Language";

    public override string PeopleUnits => "Units";

    public override string PeopleZone => "Time zone";

    public override string PeopleZoneHint => "Such as Europe/Madrid. Empty: that of the site a thing happens at.";

    public override string PeopleMorning => "Morning mail not before";

    public override string PeopleMorningHint => "Empty: as soon as the morning round is done.";

    public override string PeopleQuietFrom => "Quiet from";

    public override string PeopleQuietUntil => "Quiet until";

    public override string PeopleHowTheyRead => "How they read";

    public override string PeopleSites => "Told about these sites";

    public override string PeopleSitesHint =>
        "The morning mail tells of these sites. A farm hand sees no others. Ticking a bed makes it their own, and ticks its site.";

    public override string PeopleOwnBeds => "Own beds";

    public override string PeopleActive => "Let in and told things";

    public override string PeopleActiveHint => "Without the tick nothing is lost, but sessions, tokens and links no longer open.";

    public override string PeopleIsActive => "Active";

    public override string PeopleIsInactive => "Not let in at present";

    public override string PeopleNotAccepted => "Has not accepted";

    public override string PeopleInvitedUntil(LocalDate day) => $"Invited, can accept until {ShortDate(day)}";

    public override string PeopleSendInvitation => "Send the invitation";

    public override string PeopleSendAgain => "Send again";

    public override string PeopleTakeBack => "Take back";

    public override string PeopleInvitationTitle => "Invitation";

    public override string PeopleInvitationOpen(string address, LocalDate until) => $"Sent to {address}. It can be accepted until {Date(until)}. Sending it again voids the one before.";

    public override string PeopleInvitationNone(string address) => $"No invitation to {address} is open.";

    public override string PeopleInvitationSent => "The invitation is on its way.";

    public override string PeopleInvitationTakenBack => "The invitation was taken back.";

    public override string PeopleMade => "Saved. Make a personal link below, and hand it over.";

    public override string PeopleChange => "Role, sites and settings";

    public override string PeopleRemoved => "They are no longer a member. Their entries in the logs remain, without a name.";

    public override string PeopleRemove => "Remove for good";

    public override string PeopleRemoveSaid(string name) =>
        $"Name, address, settings, tokens and links of {name} are deleted. Entries in the logs remain, without the name. This cannot be undone.";

    public override string PeopleRemoveSure(string name) => $"Yes, remove {name}";

    public override string PeopleRemoveTick => "Tick the box first: it cannot be undone.";

    public override string PeopleAddressIsTheirs => "Its holder has confirmed it, and alone can change it.";

    public override string PeopleAddressTaken => "Another member of the cooperative has this address.";

    public override string PeopleUnknownSite => "The cooperative has no such site.";

    public override string PeopleUnknownBed => "The cooperative has no such bed.";

    public override string PeopleWholeDays => "Give whole days.";

    public override string AccountTitle => "Your settings";

    public override string AccountIs(string role, string cooperative) => $"{role} at {cooperative}";

    public override string AccountSites => "Told about";

    public override string AccountNoSites => "no site";

    public override string AccountBeds => "Own beds";

    public override string AccountSettings => "How you read";

    public override string AccountWays => "Ways in";

    public override string AccountToSecurity => "Password and sign-in";

    public override string AccountToTokens => "Tokens for programs";

    public override string LinksTitle => "Personal links";

    public override string LinksSaid =>
        "With a link they work without a password: today's lists of their sites and the logs, nothing else. Whoever has the link can do the same, so make one for each phone, and take it back when the phone is lost.";

    public override string LinksName => "What to call it";

    public override string LinksNameHint => "Such as the phone it is for.";

    public override string LinksDays => "For how many days";

    public override string LinksMake => "Make a link";

    public override string LinksMade(string name) => $"The link “{name}” is made.";

    public override string LinksOnce => "Its address is shown here once: copy it, or let the phone scan the code.";

    public override string LinksQr(string name) => $"QR code of the link {name}";

    public override string LinksNone => "There is no link yet.";

    public override string LinksUntil(LocalDate day) => $"opens until {ShortDate(day)} {day.Year.ToString(CultureInfo.InvariantCulture)}";

    public override string LinksExpired(LocalDate day) => $"expired on {ShortDate(day)}";

    public override string LinksTakenBackOn(LocalDate day) => $"taken back on {ShortDate(day)}";

    public override string LinksUsed(LocalDate? day) => day is { } last ? $"last used on {ShortDate(last)}" : "never used";

    public override string LinksRevoke => "Take back";

    public override string LinksRevoked => "The link was taken back: it opens no longer.";

    public override string LinksSummary(int open, LocalDate? used) =>
        open == 0 ? "No personal link." : $"{(open == 1 ? "One personal link" : $"{Number(open)} personal links")}, {LinksUsed(used)}.";

    public override string WithTitle => "Today's list";

    public override string WithSaid(string person, string cooperative) => $"This link lets {person} see what is to be done today at {cooperative}, and write it down when it is done.";

    public override string WithButton => "Open today's list";

    public override string WithUntil(LocalDate day) => $"It opens until {Date(day)}.";

    public override string WithCookie => "This phone remembers it until then, or until you leave.";

    public override string WithGoneTitle => "This link opens nothing";

    public override string WithGoneSaid => "Ask your coordinator for a new one. If you have an account, sign in instead.";

    public override string WithLeftTitle => "You have left";

    public override string WithLeftSaid => "This phone no longer remembers the link. Open the link again to come back.";

    public override string WithBarTitle => "Personal link";

    public override string WithBar(string person) => $"You work as {person}.";

    public override string WithLeave => "Leave";

    public override string DemoAsTitle => "Look at it as:";

    public override string DemoAs(string name, string role) => $"{name}, {role.ToLower(Culture)}";

    public override string DemoAsButton => "Change";

    public override string LogReadOnly => "You can read this bed. Its log is written by those who look after it.";

    public override string LogBy(string name) => $"by {name}";

    public override string LogGone => "somebody who has left";

    public override string InvitationSubject(string cooperative) => $"You are invited to {cooperative}";

    public override string InvitationGreeting(string name) => $"Hello, {name}.";

    public override string InvitationSummary(string inviter, string cooperative, Role role) =>
        $"{inviter} asks you to join {cooperative} on FruitWatch, which tells growers each morning what their mushroom beds need. Your role there: {NameOf(role).ToLower(Culture)}.";

    public override string InvitationOpen => "Look at the invitation";

    public override string InvitationUntil(LocalDate day) => $"The link can be used once, until {Date(day)}.";

    public override string InvitationNotYou => "If this means nothing to you, do nothing: no other mail will come.";
}
