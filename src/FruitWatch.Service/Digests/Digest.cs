using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>What one person is told on one morning, not yet in words.</summary>
/// <param name="Person">Who.</param>
/// <param name="Day">The local day.</param>
/// <param name="CooperativeName">For the sender's name and the foot of the mail.</param>
/// <param name="Sites">The person's sites.</param>
/// <param name="Late">The morning had passed when the round was done: say "today", not "this morning".</param>
internal sealed record Digest(Person Person, LocalDate Day, string CooperativeName, IReadOnlyList<DigestSite> Sites, bool Late)
{
    /// <summary>Address of the pages; links begin with it.</summary>
    public Uri BaseUrl { get; init; } = new("http://localhost:5080");

    /// <summary>Names of those in whose place the person is told, too.</summary>
    public IReadOnlyList<string> For { get; init; } = [];

    /// <summary>Where buttons and last lines lead; null for a letter without them.</summary>
    public OwnLinks? Links { get; init; }

    /// <summary>All notices, most urgent first.</summary>
    public IEnumerable<DigestItem> Items => Sites.SelectMany(s => s.Beds).SelectMany(b => b.Items);
}

/// <summary>A site in a digest.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Forecast">The forecast in use, with its age; null where there is none.</param>
/// <param name="Today">The day's weather as forecast; null where unknown.</param>
/// <param name="Ahead">The forecast days after today.</param>
/// <param name="Attribution">Credit that the weather feeds ask for.</param>
/// <param name="Beds">Its beds.</param>
internal sealed record DigestSite(
    string Name,
    ForecastInUse? Forecast,
    Model.Weather.WeatherDay? Today,
    IReadOnlyList<Model.Weather.WeatherDay> Ahead,
    string Attribution,
    IReadOnlyList<DigestBed> Beds)
{
    /// <summary>The site's time zone, for the hour since when a feed has been silent.</summary>
    public DateTimeZone Zone { get; init; } = DateTimeZone.Utc;
}

/// <summary>A bed in a digest.</summary>
/// <param name="Id">Its key, for the link to its page.</param>
/// <param name="Name">Its name.</param>
/// <param name="Species">What grows in it.</param>
/// <param name="State">Today's account; null where it cannot be run.</param>
/// <param name="Problem">Why not.</param>
/// <param name="Items">Its notices.</param>
internal sealed record DigestBed(
    long Id, string Name, Species Species, AccountDay? State, AccountProblem Problem, IReadOnlyList<DigestItem> Items);

/// <summary>A notice in a digest: told for the first time, changed, withdrawn, or still open from an earlier morning.</summary>
/// <param name="Role">Why it stands in this digest.</param>
/// <param name="Notice">The notice as kept.</param>
internal sealed record DigestItem(DigestRole Role, IssuedNotice Notice);
