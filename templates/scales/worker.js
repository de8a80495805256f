self.SCALES = {cacheName: "drawbag-scales-v{{ version }}", files: "{{ files|escapejs }}", shell: [{% for url in shell %}"{{ url|escapejs }}"{% if not forloop.last %}, {% endif %}{% endfor %}]};
importScripts({% for url in scripts %}"{{ url|escapejs }}"{% if not forloop.last %}, {% endif %}{% endfor %});
