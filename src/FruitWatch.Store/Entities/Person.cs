using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A member of a cooperative: what they are in it, what they are told and how they read.</summary>
public sealed class Person : IEdited
{
    private string email = "";

    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose member.</summary>
    public long CooperativeId { get; set; }

    /// <summary>What they sign in with; null for one who has not accepted an invitation, or who works from a personal link.</summary>
    public long? AccountId { get; set; }

    /// <summary>What they are in the cooperative.</summary>
    public Role Role { get; set; }

    /// <summary>What they are called.</summary>
    public required string Name { get; set; }

    /// <summary>E-mail address as they wrote it.</summary>
    public required string Email
    {
        get => email;
        set => (email, EmailNormalized) = (value, Normalize(value));
    }

    /// <summary>The address in the form in which two are compared; once per cooperative.</summary>
    public string EmailNormalized { get; private set; } = "";

    /// <summary>When its holder confirmed the address; null while nobody did.</summary>
    public Instant? EmailConfirmedAt { get; set; }

    /// <summary>Two-letter code of the language they read.</summary>
    public string Language { get; set; } = "en";

    /// <summary>Units they read.</summary>
    public Units Units { get; set; }

    /// <summary>Their own time zone, by its IANA name; null for that of the site a thing happens at.</summary>
    public string? ZoneId { get; set; }

    /// <summary>Local time from which they want the morning mail; null for as soon as the rounds of their sites are done.</summary>
    public LocalTime? MorningAt { get; set; }

    /// <summary>Local time from which they want to be left alone.</summary>
    public LocalTime QuietFrom { get; set; } = new(20, 0);

    /// <summary>Local time until which they want to be left alone; may lie on the next day.</summary>
    public LocalTime QuietUntil { get; set; } = new(6, 0);

    /// <summary>When they want the morning mail.</summary>
    public DigestWish Digests { get; set; }

    /// <summary>When they want to be told at once of what cannot wait.</summary>
    public UrgentWish Urgent { get; set; }

    /// <summary>Kinds of notices that they do not want to be told of, such as <c>weekly-check yearly-feeding</c>; empty for none.</summary>
    public string KindsLeftOut { get; set; } = "";

    /// <summary>First local day of a pause; null where none is planned.</summary>
    public LocalDate? AwayFrom { get; set; }

    /// <summary>Last local day of the pause.</summary>
    public LocalDate? AwayUntil { get; set; }

    /// <summary>Who is told in their place during the pause; null for nobody.</summary>
    public long? DeputyId { get; set; }

    /// <summary>Since when nothing is sent to their address, because mail to it came back; null while it works.</summary>
    public Instant? MailPausedAt { get; set; }

    /// <summary>What the other server said; null while the address works.</summary>
    public string? MailPausedWhy { get; set; }

    /// <summary>Whether they are a member at present: told things, and let in.</summary>
    public bool Active { get; set; } = true;

    /// <inheritdoc/>
    public int Version { get; set; } = 1;

    /// <summary>Sites they are told about, where asked for in the query.</summary>
    public List<PersonSite> Sites { get; } = [];

    /// <summary>Beds that they do not want to be told of, where asked for in the query.</summary>
    public List<PersonBedLeftOut> BedsLeftOut { get; } = [];

    /// <summary>Beds that are their own, where asked for in the query.</summary>
    public List<BedGrower> Beds { get; } = [];

    /// <summary>An address in the form in which two are compared: without spaces around it, in lower case.</summary>
    /// <remarks>A column of its own, because the two databases do not agree on comparing without case.</remarks>
    public static string Normalize(string email) => email.Trim().ToLowerInvariant();
}
