using FruitWatch.Service.People;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

// Members, their settings, invitations and personal links.
internal abstract partial class Words
{
    public abstract string NameOf(Role role);

    /// <summary>What a role may do.</summary>
    public abstract string RoleSaid(Role role, bool growersReadAll);

    public abstract string NameOf(Units units);

    public abstract string PeopleRefused(MemberRefusal why);

    /// <summary>What a member is told about.</summary>
    public abstract string PeopleSees(IReadOnlyList<string> sites, int beds);

    public abstract string PeopleTitle { get; }

    public abstract string PeopleLead { get; }

    public abstract string PeopleInvite { get; }

    public abstract string PeopleInviteLead { get; }

    public abstract string PeopleName { get; }

    public abstract string PeopleEmail { get; }

    public abstract string PeopleEmailHint { get; }

    public abstract string PeopleRole { get; }

    public abstract string PeopleOwnRole { get; }

    public abstract string PeopleLanguage { get; }

    public abstract string PeopleUnits { get; }

    public abstract string PeopleZone { get; }

    public abstract string PeopleZoneHint { get; }

    public abstract string PeopleMorning { get; }

    public abstract string PeopleMorningHint { get; }

    public abstract string PeopleQuietFrom { get; }

    public abstract string PeopleQuietUntil { get; }

    public abstract string PeopleHowTheyRead { get; }

    public abstract string PeopleSites { get; }

    public abstract string PeopleSitesHint { get; }

    public abstract string PeopleOwnBeds { get; }

    public abstract string PeopleActive { get; }

    public abstract string PeopleActiveHint { get; }

    public abstract string PeopleIsActive { get; }

    public abstract string PeopleIsInactive { get; }

    public abstract string PeopleNotAccepted { get; }

    public abstract string PeopleInvitedUntil(LocalDate day);

    public abstract string PeopleSendInvitation { get; }

    public abstract string PeopleSendAgain { get; }

    public abstract string PeopleTakeBack { get; }

    public abstract string PeopleInvitationTitle { get; }

    public abstract string PeopleInvitationOpen(string address, LocalDate until);

    public abstract string PeopleInvitationNone(string address);

    public abstract string PeopleInvitationSent { get; }

    public abstract string PeopleInvitationTakenBack { get; }

    public abstract string PeopleMade { get; }

    public abstract string PeopleChange { get; }

    public abstract string PeopleRemoved { get; }

    public abstract string PeopleRemove { get; }

    public abstract string PeopleRemoveSaid(string name);

    public abstract string PeopleRemoveSure(string name);

    public abstract string PeopleRemoveTick { get; }

    public abstract string PeopleAddressIsTheirs { get; }

    public abstract string PeopleAddressTaken { get; }

    public abstract string PeopleUnknownSite { get; }

    public abstract string PeopleUnknownBed { get; }

    public abstract string PeopleWholeDays { get; }

    public abstract string AccountTitle { get; }

    public abstract string AccountIs(string role, string cooperative);

    public abstract string AccountSites { get; }

    public abstract string AccountNoSites { get; }

    public abstract string AccountBeds { get; }

    public abstract string AccountSettings { get; }

    public abstract string AccountWays { get; }

    public abstract string AccountToSecurity { get; }

    public abstract string AccountToTokens { get; }

    public abstract string LinksTitle { get; }

    public abstract string LinksSaid { get; }

    public abstract string LinksName { get; }

    public abstract string LinksNameHint { get; }

    public abstract string LinksDays { get; }

    public abstract string LinksMake { get; }

    public abstract string LinksMade(string name);

    public abstract string LinksOnce { get; }

    public abstract string LinksQr(string name);

    public abstract string LinksNone { get; }

    public abstract string LinksUntil(LocalDate day);

    public abstract string LinksExpired(LocalDate day);

    public abstract string LinksTakenBackOn(LocalDate day);

    public abstract string LinksUsed(LocalDate? day);

    public abstract string LinksRevoke { get; }

    public abstract string LinksRevoked { get; }

    public abstract string LinksSummary(int open, LocalDate? used);

    public abstract string WithTitle { get; }

    public abstract string WithSaid(string person, string cooperative);

    public abstract string WithButton { get; }

    public abstract string WithUntil(LocalDate day);

    public abstract string WithCookie { get; }

    public abstract string WithGoneTitle { get; }

    public abstract string WithGoneSaid { get; }

    public abstract string WithLeftTitle { get; }

    public abstract string WithLeftSaid { get; }

    public abstract string WithBarTitle { get; }

    public abstract string WithBar(string person);

    public abstract string WithLeave { get; }

    public abstract string DemoAsTitle { get; }

    public abstract string DemoAs(string name, string role);

    public abstract string DemoAsButton { get; }

    /// <summary>Stands where the forms of the log would.</summary>
    public abstract string LogReadOnly { get; }

    /// <summary>Who recorded an entry.</summary>
    public abstract string LogBy(string name);

    /// <summary>Somebody who recorded an entry and is no member any more.</summary>
    public abstract string LogGone { get; }

    /// <summary>The matter in one line.</summary>
    public abstract string InvitationSubject(string cooperative);

    public abstract string InvitationGreeting(string name);

    public abstract string InvitationSummary(string inviter, string cooperative, Role role);

    public abstract string InvitationOpen { get; }

    public abstract string InvitationUntil(LocalDate day);

    public abstract string InvitationNotYou { get; }
}
