namespace FruitWatch.Service.Operating;

/// <summary>Settings of the service. Bound from the configuration section <c>FruitWatch</c>; see docs/operating.md.</summary>
internal sealed class ServiceOptions
{
    public const string Section = "FruitWatch";

    /// <summary>Folder of the store, uploaded weather files and mails written as files.</summary>
    public string DataFolder { get; set; } = "data";

    /// <summary>Address at which people reach the pages; links in mails begin with it.</summary>
    public Uri BaseUrl { get; set; } = new("http://localhost:5080");

    /// <summary>Whom a weather service can write to; sent with every request for weather.</summary>
    public string Contact { get; set; } = "operator@localhost";

    /// <summary>Whether the service looks for due work by itself; tests and the demo step it by hand.</summary>
    public bool RunJobs { get; set; } = true;

    /// <summary>Folder of weather files that users handed in.</summary>
    public string FeedFolder => Path.Combine(DataFolder, "feeds");

    /// <summary>Folder of mails written as files where no mail server is configured.</summary>
    public string MailFolder => Path.Combine(DataFolder, "mail");
}
