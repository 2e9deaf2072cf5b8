namespace FruitWatch.Feeds;

/// <summary>
/// The codes of refusals (<see cref="FeedException"/>) and notes (<see cref="FeedProblem"/>). They are stable: kept beside
/// a feed's last answer, counted, and explained one by one in docs/feeds.md.
/// </summary>
public static class FeedCodes
{
    /// <summary>The answer is a web page or another kind of content than the description lists.</summary>
    public const string NotExpectedType = "body.notExpectedType";

    /// <summary>The answer holds nothing.</summary>
    public const string EmptyBody = "body.empty";

    /// <summary>The answer is longer than the description allows.</summary>
    public const string TooLarge = "body.tooLarge";

    /// <summary>The answer did not arrive whole before the deadline.</summary>
    public const string TooSlow = "body.tooSlow";

    /// <summary>The connection broke in the middle of the answer.</summary>
    public const string CutShort = "body.cutShort";

    /// <summary>The file handed in is not there or cannot be opened.</summary>
    public const string FileUnreadable = "file.unreadable";

    /// <summary>The text is not JSON.</summary>
    public const string InvalidJson = "parse.invalidJson";

    /// <summary>One JSON object names a member twice.</summary>
    public const string DuplicateKey = "parse.duplicateKey";

    /// <summary>The JSON is nested deeper than any weather answer is.</summary>
    public const string TooDeep = "parse.tooDeep";

    /// <summary>The bytes are not text in the encoding expected.</summary>
    public const string Encoding = "parse.encoding";

    /// <summary>The text is not CSV: a quotation mark is out of place.</summary>
    public const string InvalidCsv = "parse.invalidCsv";

    /// <summary>The feed itself says that it failed.</summary>
    public const string ReportedError = "feed.reportedError";

    /// <summary>More than a fifth of the temperatures cannot be temperatures in the unit given.</summary>
    public const string SuspectUnits = "feed.suspectUnits";

    /// <summary>More than a fifth of the values are not numbers.</summary>
    public const string TooManyUnreadable = "feed.tooManyUnreadable";

    /// <summary>Something the description points at is not in the answer.</summary>
    public const string Missing = "shape.missing";

    /// <summary>Two columns of one table differ in length.</summary>
    public const string UnequalColumns = "shape.unequalColumns";

    /// <summary>A CSV row has more or fewer fields than the header.</summary>
    public const string RaggedRow = "shape.raggedRow";

    /// <summary>A CSV header names a column twice.</summary>
    public const string DuplicateColumn = "shape.duplicateColumn";

    /// <summary>Only a page of the data came.</summary>
    public const string MorePages = "shape.morePages";

    /// <summary>Fewer ensemble members came than the description names.</summary>
    public const string MissingMembers = "shape.missingMembers";

    /// <summary>The feed declares another unit than the description; converted.</summary>
    public const string UnitChanged = "unit.changed";

    /// <summary>The feed declares a unit that is not in the table of units.</summary>
    public const string UnitUnknown = "unit.unknown";

    /// <summary>The feed declares a unit of another quantity.</summary>
    public const string UnitWrongQuantity = "unit.wrongQuantity";

    /// <summary>The feed no longer declares the unit it was said to declare.</summary>
    public const string UnitUndeclared = "unit.undeclared";

    /// <summary>A time does not follow the pattern, or is no time.</summary>
    public const string TimeUnparseable = "time.unparseable";

    /// <summary>A time carries no offset from UTC where one is needed.</summary>
    public const string TimeNoZone = "time.noZone";

    /// <summary>The same time twice with equal values; counted once.</summary>
    public const string TimeDuplicate = "time.duplicate";

    /// <summary>The same time twice with different values; unknown.</summary>
    public const string TimeDuplicateConflict = "time.duplicateConflict";

    /// <summary>Days without any value between the first and the last.</summary>
    public const string TimeGap = "time.gap";

    /// <summary>Rain periods overlap; rain of the days they touch is unknown.</summary>
    public const string TimeOverlap = "time.overlap";

    /// <summary>Past weather dated in the future; dropped.</summary>
    public const string TimeFutureDated = "time.futureDated";

    /// <summary>A forecast for days beyond the feed's horizon; dropped.</summary>
    public const string TimeTooFarAhead = "time.tooFarAhead";

    /// <summary>A forecast that ends before today, or was made too long ago.</summary>
    public const string TimeStale = "time.stale";

    /// <summary>A value that is no finite number; unknown.</summary>
    public const string ValueNotNumber = "value.notNumber";

    /// <summary>A value the feed's own flags mark as bad; unknown.</summary>
    public const string ValueFlagged = "value.flagged";

    /// <summary>A value no weather reaches; unknown.</summary>
    public const string ValueImplausible = "value.implausible";

    /// <summary>A value kept, though it is close to the records.</summary>
    public const string ValueUnusual = "value.unusual";

    /// <summary>Negative rain; unknown.</summary>
    public const string ValueNegativeRain = "value.negativeRain";

    /// <summary>Rain a hair below zero, the noise of packed numbers; taken as 0.</summary>
    public const string ValueTinyNegative = "value.tinyNegative";

    /// <summary>A minimum above the maximum of its day; both unknown.</summary>
    public const string ValueInconsistent = "value.inconsistent";

    /// <summary>Nothing usable in the whole answer.</summary>
    public const string DataEmpty = "data.empty";

    /// <summary>The server failed or was too busy.</summary>
    public const string ServerError = "http.serverError";

    /// <summary>The server asks for fewer requests.</summary>
    public const string RateLimited = "http.rateLimited";

    /// <summary>The server does not let us in.</summary>
    public const string Forbidden = "http.forbidden";

    /// <summary>The server does not know what was asked for.</summary>
    public const string NotFound = "http.notFound";

    /// <summary>The server sends us to another address.</summary>
    public const string RedirectRefused = "http.redirectRefused";

    /// <summary>The server answers with a status that means nothing for a feed.</summary>
    public const string UnexpectedStatus = "http.unexpectedStatus";

    /// <summary>The answer says that this version of the service is about to go.</summary>
    public const string Deprecated = "http.deprecated";

    /// <summary>No connection: the name, the network or the server.</summary>
    public const string Unreachable = "net.unreachable";

    /// <summary>The server's certificate is not valid.</summary>
    public const string Tls = "net.tls";

    /// <summary>The host is not on the open internet, and the operator has not allowed it.</summary>
    public const string BlockedAddress = "net.blockedAddress";

    /// <summary>The host failed several times in a row and is left alone for a while.</summary>
    public const string HostResting = "net.hostResting";

    /// <summary>The description or the site lacks something the request needs.</summary>
    public const string RequestIncomplete = "request.incomplete";

    /// <summary>Every code, in the order of docs/feeds.md.</summary>
    public static IReadOnlyList<string> All { get; } =
        [.. typeof(FeedCodes).GetFields().Where(field => field.IsLiteral).Select(field => (string)field.GetRawConstantValue()!)];

    /// <summary>Whether a refusal stays until somebody changes the description, the site or the key.</summary>
    internal static bool IsPermanent(string code) => code is
        TooLarge or FileUnreadable or DuplicateKey or TooDeep or Encoding or InvalidCsv or SuspectUnits or TooManyUnreadable
        or Missing or UnequalColumns or RaggedRow or DuplicateColumn or UnitUnknown or UnitWrongQuantity
        or TimeUnparseable or TimeNoZone or Forbidden or NotFound or RedirectRefused or BlockedAddress or RequestIncomplete;
}
