using System.ComponentModel;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>A member as the API gives it.</summary>
[Description("A member of the cooperative: what they are in it, what they are told and how they read.")]
internal sealed record PersonBody(
    [property: Description("Key.")] long Id,
    [property: Description("What they are called.")] string Name,
    [property: Description("E-mail address; empty for a farm hand who has none.")] string Email,
    [property: Description("When its holder confirmed the address; null while nobody did.")] Instant? EmailConfirmedAt,
    [property: Description("What they are in the cooperative.")] Role Role,
    [property: Description("Language they read.")] string Language,
    [property: Description("Units they read.")] Units Units,
    [property: Description("Their own time zone; null for that of the site a thing happens at.")] string? ZoneId,
    [property: Description("Local time from which they want the morning mail; null for as soon as the rounds of their sites are done.")] LocalTime? MorningAt,
    [property: Description("Local time from which they want to be left alone.")] LocalTime QuietFrom,
    [property: Description("Local time until which they want to be left alone.")] LocalTime QuietUntil,
    [property: Description("Whether they are let in and told things.")] bool Active,
    [property: Description("Whether they have something to sign in with: they accepted an invitation.")] bool SignsIn,
    [property: Description("Until when an invitation that was sent can be accepted; null where none is open.")] Instant? InvitedUntil,
    [property: Description("Sites they are told about; a farm hand sees no others.")] IReadOnlyList<long> SiteIds,
    [property: Description("Beds that are their own.")] IReadOnlyList<long> BedIds)
{
    public static PersonBody Of(Person row, Instant? invitedUntil) => new(
        row.Id,
        row.Name,
        row.Email,
        row.EmailConfirmedAt,
        row.Role,
        row.Language,
        row.Units,
        row.ZoneId,
        row.MorningAt,
        row.QuietFrom,
        row.QuietUntil,
        row.Active,
        row.AccountId is not null,
        invitedUntil,
        [.. row.Sites.Select(told => told.SiteId).Order()],
        [.. row.Beds.Select(own => own.BedId).Order()]);
}

/// <summary>A member as it is sent.</summary>
[Description("A member as they are invited or changed. A change names all fields: what is left out goes back to its default.")]
internal sealed record PersonChange(
    [property: Description("What they are called, 1 to 80 characters.")] string Name,
    [property: Description(
        "One e-mail address, up to 254 characters. An invitation goes to it, and nothing else until its holder has accepted. "
        + "Only a farm hand may have none. Once confirmed, only its holder can change it.")]
    string? Email,
    [property: Description("What they are in the cooperative. Nobody changes their own.")] Role Role,
    [property: Description("Language they read: en or es; en where left out.")] string? Language,
    [property: Description("Units they read; metric where left out.")] Units? Units,
    [property: Description("Their own time zone by its IANA name; null for that of the site a thing happens at.")] string? ZoneId,
    [property: Description("Local time from which they want the morning mail, 00:00 to 18:00.")] LocalTime? MorningAt,
    [property: Description("Local time from which they want to be left alone; 20:00 where left out.")] LocalTime? QuietFrom,
    [property: Description("Local time until which they want to be left alone; 06:00 where left out.")] LocalTime? QuietUntil,
    [property: Description(
        "Whether they are let in and told things. Left out: as it is; somebody new becomes active by accepting the invitation, a farm hand at once.")]
    bool? Active,
    [property: Description("Sites they are told about. A site that is no longer named takes the beds there that were their own along.")]
    IReadOnlyList<long>? SiteIds,
    [property: Description("Beds that are their own. The site of a bed that is newly named is added to those they are told about.")]
    IReadOnlyList<long>? BedIds) : IReadBody<PersonChange>
{
    public const int LongestAddress = 254; // RFC 5321 section 4.5.3.1.3, without the angle brackets
    private const int MostSites = 500;
    private const int MostBeds = 5000;

    public static PersonChange Read(JsonFields fields) => Of(fields, withActive: true);

    /// <param name="fields">What was sent.</param>
    /// <param name="withActive">Whether to read if they are active; a form that does not ask leaves it as it is.</param>
    public static PersonChange Of(IFields fields, bool withActive)
    {
        var settings = PersonSettings.Of(fields);
        var email = fields.Line("email", LongestAddress) ?? "";
        var role = fields.Word<Role>("role");
        var change = new PersonChange(
            settings.Name,
            email,
            role ?? default,
            settings.Language,
            settings.Units,
            settings.ZoneId,
            settings.MorningAt,
            settings.QuietFrom,
            settings.QuietUntil,
            withActive ? fields.YesNo("active") : null,
            fields.Ids("siteIds", MostSites),
            fields.Ids("bedIds", MostBeds));
        if (role is null && fields.Good)
            fields.Refuse("role", words => words.FieldsFillIn);
        if (email.Length > 0 && !IsAddress(email))
            fields.Refuse("email", words => words.FieldsAddress);
        if (email.Length == 0 && role is not Store.Entities.Role.FarmHand)
            fields.Refuse("email", words => words.FieldsFillIn);
        return change;
    }

    public PersonSettings Settings => new(Name, Language, Units, ZoneId, MorningAt, QuietFrom, QuietUntil);

    // One mailbox by RFC 5322, and in the letters that every relay takes.
    private static bool IsAddress(string text) =>
        text.All(c => c is > ' ' and < '\x7f') && MailOptions.IsOneAddress(text) && text.LastIndexOf('@') is > 0 and var at && at < text.Length - 1;
}

/// <summary>The caller as the API gives them.</summary>
[Description("Whom the token acts for.")]
internal sealed record MeBody(
    [property: Description("Key.")] long Id,
    [property: Description("What they are called.")] string Name,
    [property: Description("E-mail address.")] string Email,
    [property: Description("What they are in the cooperative.")] Role Role,
    [property: Description("Key of the cooperative.")] long CooperativeId,
    [property: Description("What the cooperative is called.")] string CooperativeName,
    [property: Description("Language they read.")] string Language,
    [property: Description("Units they read.")] Units Units,
    [property: Description("Their own time zone; null for that of the site a thing happens at.")] string? ZoneId,
    [property: Description("Local time from which they want the morning mail; null for as soon as the rounds of their sites are done.")] LocalTime? MorningAt,
    [property: Description("Local time from which they want to be left alone.")] LocalTime QuietFrom,
    [property: Description("Local time until which they want to be left alone.")] LocalTime QuietUntil,
    [property: Description("Sites they are told about.")] IReadOnlyList<long> SiteIds,
    [property: Description("Beds that are their own.")] IReadOnlyList<long> BedIds)
{
    public static MeBody Of(Person row, Cooperative cooperative) => new(
        row.Id,
        row.Name,
        row.Email,
        row.Role,
        cooperative.Id,
        cooperative.Name,
        row.Language,
        row.Units,
        row.ZoneId,
        row.MorningAt,
        row.QuietFrom,
        row.QuietUntil,
        [.. row.Sites.Select(told => told.SiteId).Order()],
        [.. row.Beds.Select(own => own.BedId).Order()]);
}
